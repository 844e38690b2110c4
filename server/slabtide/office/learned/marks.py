"""Forecasts kept: what was told of each load when it was first told of, at placing, and last."""

from collections.abc import Iterable, Iterator, Mapping
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any, Literal

from slabtide.log.instants import read_instant
from slabtide.log.model import JobView, Load
from slabtide.office.learned.known import Prior
from slabtide.office.record.kept import WORK, Told, told_in
from slabtide.office.working import Stored, Worked, work_out

Stage = Literal["first", "at_placing", "last"]
AT_ONCE = timedelta(minutes=10)
"""A forecast made within this of placing, before any check, is the one that stood at placing (EST)."""
_MOST_AFTERWARDS = 12  # forecasts made afterwards in one look


@dataclass(frozen=True, slots=True)
class Mark:
    """What a forecast said of one load, by work. `afterwards`: worked out later, as of then."""

    load: str
    stage: Stage
    made_at: datetime
    basis: str
    windows: Mapping[str, Any]
    afterwards: bool = False


Held = Mapping[tuple[str, str], str]
"""The basis of each forecast already kept, by load and stage."""


def marks_of(
    view: JobView, stored: Stored, now: datetime, prior: Prior | None, worked: Worked, held: Held
) -> list[Mark]:
    """What is to be kept of this look at a job.

    A load's first forecast stays until its batching is told anew, that at placing until its placing is.
    """
    if worked.planned or (worked.timeline is None and not worked.unchanged):
        return []
    told, found = told_in(worked.timeline), []
    for load in view.loads:
        if load.id not in told:
            continue
        last = Mark(load.id, "last", now, _basis(load), told[load.id])
        found.append(last)
        if held.get((load.id, "first")) != load.batched_at:
            found.append(replace(last, stage="first", basis=load.batched_at))
    owed = list(_owed(view, held))
    now_told = [load for load in owed if load.id in told and _stands_at_placing(view, load, now)]
    found += [Mark(load.id, "at_placing", now, _basis(load), told[load.id]) for load in now_told]
    return found + list(_afterwards(view, stored, prior, (load for load in owed if load not in now_told)))


def _owed(view: JobView, held: Held) -> Iterator[Load]:
    """Loads that were placed and whose forecast of then is not kept, or was of other times."""
    return (load for load in view.loads if load.placed and held.get((load.id, "at_placing")) != _basis(load))


def _stands_at_placing(view: JobView, load: Load, now: datetime) -> bool:
    assert load.placed is not None
    placed = read_instant(load.placed.to)
    unseen = all(read_instant(check.at) <= placed for check in view.checks)
    return unseen and now - placed <= AT_ONCE


def _afterwards(view: JobView, stored: Stored, prior: Prior | None, loads: Iterable[Load]) -> Iterator[Mark]:
    """The forecasts of then, worked out now: no check and no reading after placing is seen. The weather is as
    it is known now."""
    for load, _ in zip(loads, range(_MOST_AFTERWARDS), strict=False):
        assert load.placed is not None
        placed = read_instant(load.placed.to)
        then = replace(
            view,
            checks=tuple(one for one in view.checks if read_instant(one.at) <= placed),
            weather_notes=tuple(one for one in view.weather_notes if read_instant(one.at) <= placed),
        )
        told = told_in(work_out(then, stored, placed, None, prior).timeline)
        if load.id in told:
            yield Mark(load.id, "at_placing", placed, _basis(load), told[load.id], afterwards=True)


def _basis(load: Load) -> str:
    placed = load.placed
    return f"{load.batched_at} {placed.from_} {placed.to}" if placed else load.batched_at


def works_in(windows: Mapping[str, Any]) -> Iterator[tuple[str, Any, Any]]:
    """Each work that a forecast spoke of, when it opens and when it closes."""
    for work in WORK:
        if work in windows:
            window = windows[work] or {}
            yield work, window.get("opens"), window.get("closes")


def told_by_marks(rows: Iterable[Any], stage: Stage) -> Told:
    """The windows kept of one stage (rows of `ForecastMark`), by load."""
    found: dict[str, dict[str, Any]] = {}
    for row in rows:
        if row.stage == stage:
            found.setdefault(row.load, {})[row.what] = {"opens": row.opens, "closes": row.closes}
    return found
