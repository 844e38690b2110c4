"""The work of the open jobs ahead, and who or what each wants. Pure.

Rule: jobs want the same crew, saw or sprayer where they name it alike (case and spaces aside). Jobs that
name none share the company's one; with more than a dozen such jobs at work the company has several, and
only names can tell, so those are left out.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from functools import lru_cache
from typing import Any

from slabtide.log.instants import read_instant
from slabtide.office.conflicts.order import Clash, Work, clashes
from slabtide.office.conflicts.settings import EST, Settings

WANTS: Mapping[str, tuple[str, ...]] = {
    "pour": ("crew",),
    "texture": ("crew",),
    "saw": ("crew", "saw"),
    "wash": ("crew",),
    "colour": ("crew", "sprayer"),
    "seal": ("crew", "sprayer"),
}
KINDS = ("crew", "saw", "sprayer")


@dataclass(frozen=True, slots=True)
class Resource:
    """`name` '' for the company's one."""

    kind: str
    name: str


@dataclass(frozen=True, slots=True)
class Conflict:
    """Work of several jobs that wants one resource at one time."""

    resource: Resource
    clash: Clash


@dataclass(frozen=True, slots=True)
class Found:
    """`unnamed`: kinds so many jobs leave unnamed that conflicts can't be told."""

    conflicts: tuple[Conflict, ...]
    unnamed: tuple[str, ...]


def find(jobs: Iterable[tuple[str, Mapping[str, Any]]], now: datetime, settings: Settings = EST) -> Found:
    """Conflicts among jobs, each with what the board keeps of it, the costliest first."""
    wanted: dict[Resource, list[Work]] = {}
    for job, shown in jobs:
        for work in works_of(job, shown, now, settings):
            for kind in WANTS[work.what]:
                wanted.setdefault(Resource(kind, _name(shown, kind)), []).append(work)
    many = {one for one, works in wanted.items() if not one.name and _jobs(works) > settings.most_unnamed}
    found = [
        Conflict(resource, clash)
        for resource, works in wanted.items()
        if resource not in many
        for clash in (_known(tuple(works), now) if settings is EST else clashes(works, now, settings))
    ]
    found.sort(key=lambda one: (-one.clash.loss, KINDS.index(one.resource.kind), one.resource.name))
    return Found(tuple(_once(found)), tuple(sorted(one.kind for one in many)))


@lru_cache(maxsize=512)
def _known(works: tuple[Work, ...], now: datetime) -> tuple[Clash, ...]:
    """The clashes of one resource, kept: a board is looked at far more often than its work changes."""
    return tuple(clashes(works, now))


def works_of(job: str, shown: Mapping[str, Any], now: datetime, settings: Settings = EST) -> list[Work]:
    """The work of a job in the days ahead: its pour, and what has a window that closes."""
    found = []
    pour = _pour(job, shown, now, settings)
    if pour is not None and pour.ready < now + settings.look_ahead:
        found.append(pour)
    for window in shown.get("windows") or ():
        if window["closes"] is None or _is_lost(window, now):
            continue
        done_by = read_instant(window["closes"]["early"])
        lasts = _lasts(window["what"], shown, settings)
        ready = min(read_instant(window["opens"]["likely"]), done_by - lasts)
        if ready < now + settings.look_ahead:
            found.append(Work(job, window["what"], window["subject"], max(ready, now), lasts, done_by))
    return found


def _is_lost(window: Mapping[str, Any], now: datetime) -> bool:
    """Nobody can texture concrete that has set, or nobody ticked it: either way it holds no crew."""
    return window["what"] == "texture" and read_instant(window["closes"]["late"]) <= now


def _pour(job: str, shown: Mapping[str, Any], now: datetime, settings: Settings) -> Work | None:
    if not shown.get("pour_at") or shown.get("loads_placed"):
        return None
    begins = read_instant(shown["pour_at"])
    if begins < now:
        return None
    loads = shown.get("loads_ordered") or 1
    lasts = (loads - 1) * settings.between_loads + settings.after_last_load
    return Work(job, "pour", "", begins, lasts, begins + lasts)


def _lasts(what: str, shown: Mapping[str, Any], settings: Settings) -> timedelta:
    if what == "texture":
        by_pace = shown.get("texture_min")
        return timedelta(minutes=by_pace) if by_pace else settings.texture_without_pace
    if what != "saw":
        return settings.coating
    minutes = (shown.get("named") or {}).get("saw_min")
    return settings.set_up_saw + (timedelta(minutes=minutes) if minutes else settings.saw_without_length)


def _name(shown: Mapping[str, Any], kind: str) -> str:
    return " ".join(((shown.get("named") or {}).get(kind) or "").split()).casefold()


def _jobs(works: Iterable[Work]) -> int:
    return len({work.job for work in works})


def _once(found: Iterable[Conflict]) -> Iterable[Conflict]:
    """The same work clashing over its crew and its saw is told once, by the crew."""
    told: list[set[Work]] = []
    for one in sorted(found, key=lambda each: KINDS.index(each.resource.kind)):
        works = {turn.work for turn in one.clash.best}
        if not any(works <= other for other in told):
            told.append(works)
            yield one
