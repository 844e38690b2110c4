"""The work of the pour's own hours, load by load: the surface checks the times learn from, and texturing.

A check is worth making from the early opening of the edges (bleed sheen gone, a foot leaves a mark) until the
mats: it closes with the opening of texture. One made earlier by more than `CHECK_COUNTS_BEFORE` does not
count; nor does one that showed the concrete so far behind that the checks open again later.
Texturing has the engine's window. Without times there is neither: practice can't say when a slab prints.
Loads of one number are one load written down twice, and take the safe side of both.
A load with nothing ticked that opened before one that is textured is over too: who is done with the later one
has been at it. Of loads with nothing ticked only the first is called missed: nobody knows whether they were
missed or just not ticked, and once is enough to say so.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from slabtide.reminders.contract import When, WorkWindow

HAND_WORK = ("check", "texture")
CHECK_COUNTS_BEFORE = timedelta(minutes=20)  # common practice, no source
NEW_START = timedelta(minutes=90)
"""A load that opens so long after the one before wants its own heads-up: people go off in between."""


@dataclass(frozen=True, slots=True)
class HandLoad:
    """A load in place. `number`: its ticket's, None without one; `begun`, `textured`: by the marks on its
    bays; `can_be_ticked`: it has bays that can say so; `checked_at`: its last surface check, UTC."""

    id: str
    number: int | None
    begun: bool
    textured: bool
    can_be_ticked: bool
    checked_at: datetime | None


@dataclass(frozen=True, slots=True)
class HandWindow:
    """A piece of hand work not done. `first`: it begins a spell of work, so that people must be called to it;
    `begun`: it is under way; `can_be_ticked`: somebody can say when it is done; `may_be_missed`: not so
    a load's texturing of which nothing is ticked where that holds of one before it too."""

    window: WorkWindow
    first: bool
    begun: bool
    can_be_ticked: bool
    may_be_missed: bool


def hand_windows(loads: Sequence[HandLoad], timeline: Mapping[str, Any] | None) -> Iterator[HandWindow]:
    """The checks and the texturing still to do, checks first, each in order of opening."""
    told = {load["id"]: load.get("windows") or {} for load in (timeline or {}).get("loads") or ()}
    groups: dict[int | None, list[HandLoad]] = {}
    for load in loads:
        if (told.get(load.id) or {}).get("texture"):
            groups.setdefault(load.number, []).append(load)
    textures = {
        number: _window("texture", number, [told[one.id] for one in group])
        for number, group in groups.items()
    }
    textured = [textures[number].opens.likely for number, group in groups.items() if _is_textured(group)]
    over = max(textured, default=None)
    for what in HAND_WORK:
        last: datetime | None = None
        unticked = 0
        found = [
            (_window(what, number, [told[one.id] for one in group]), number, group)
            for number, group in groups.items()
        ]
        for window, number, group in sorted(found, key=lambda one: (one[0].opens.likely, one[0].subject)):
            first = last is None or window.opens.likely - last >= NEW_START
            last = window.opens.likely
            begun = any(load.begun for load in group)
            passed_over = not begun and over is not None and textures[number].opens.likely < over
            if not passed_over and not _is_done(window, group):
                can_be_ticked = all(load.can_be_ticked for load in group)
                unticked += can_be_ticked and not begun
                may_be_missed = what == "check" or begun or unticked == 1
                yield HandWindow(window, first, begun, can_be_ticked, may_be_missed)


def load_of(subject: str) -> str | None:
    """The load's number in a subject, None where it says none.

    >>> load_of("load-2"), load_of("")
    ('2', None)
    """
    number = subject.removeprefix("load-")
    return number if number != subject else None


def _window(what: str, number: int | None, told: Sequence[Mapping[str, Any]]) -> WorkWindow:
    subject = "" if number is None else f"load-{number}"
    opens = _each([When.from_json(windows["texture"]["opens"]) for windows in told])
    if what == "check":
        edges = [When.from_json((windows.get("edge") or windows["texture"])["opens"]) for windows in told]
        at = _each(edges).early
        return WorkWindow("check", subject, When(at, at, at), opens)
    closing = [windows["texture"]["closes"] for windows in told if windows["texture"]["closes"]]
    closes = _each([When.from_json(one) for one in closing]) if closing else None
    return WorkWindow("texture", subject, opens, closes)


def _is_done(window: WorkWindow, group: Sequence[HandLoad]) -> bool:
    if _is_textured(group):
        return True
    if window.what == "texture":
        return False
    counts_from = window.opens.early - CHECK_COUNTS_BEFORE
    return any(load.begun or (load.checked_at and load.checked_at >= counts_from) for load in group)


def _is_textured(group: Sequence[HandLoad]) -> bool:
    return all(load.textured for load in group)


def _each(times: Sequence[When]) -> When:
    return When(
        min(when.early for when in times),
        min(when.likely for when in times),
        min(when.late for when in times),
    )
