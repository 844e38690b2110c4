"""The saw day: each planned cut with its own hours, when to start so that all are met, and whether one saw
can.

The order is the planner's. The rule it is proposed by: the oldest concrete first, and on concrete of one age
the cuts that shorten the longest run before those that cross them, so that panels go square.
"""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import accumulate

from slabtide.engine.later import Cut, CutResult, TriedCut
from slabtide.engine.pour import Saw
from slabtide.engine.timeline import LoadTimeline

LEAST_WINDOW = timedelta(hours=2)  # where practice is over before a saw can cut: cut at once (EST)
# How long to leave concrete whose edges did not hold in a test (EST, common practice).
WAIT: Mapping[CutResult, timedelta] = {
    "clean": timedelta(0),
    "slight": timedelta(minutes=25),
    "ravels": timedelta(minutes=60),
}
MOST_SAWS = 4
USUAL_RATE_M_PER_MIN = 1.0  # common practice, no source


@dataclass(frozen=True, slots=True)
class PlannedCut:
    """One cut: how long it takes, from when its edges likely hold, when it must be done (the early close of
    the loads it runs over; None = no close is known), the latest start that still makes it with all before
    it, when it starts and ends if the saw never waits longer than it must, and whether that is too late."""

    cut: Cut
    minutes: float
    opens: datetime | None
    closes: datetime | None
    start_by: datetime | None
    starts: datetime | None
    ends: datetime | None
    late: bool


@dataclass(frozen=True, slots=True)
class Tested:
    """The last test cut, and from when to try again (None: the edges held)."""

    test: TriedCut
    again_at: datetime | None


@dataclass(frozen=True, slots=True)
class SawPlan:
    """All cuts in order of work. `start_by`: the latest start that makes every cut left; `short_from`: the
    first cut that one saw can't make, `saws` how many would make all (None = more than four, or no number of
    them)."""

    kind: str
    rate_m_per_min: float
    left_m: float
    minutes_left: float
    opens: datetime | None
    start_by: datetime | None
    short_from: str | None
    saws: int | None
    tested: Tested | None
    cuts: tuple[PlannedCut, ...]


def saw_plan(
    cuts: Sequence[Cut],
    tests: Sequence[TriedCut],
    saw: Saw | None,
    loads: Sequence[LoadTimeline],
    at: datetime,
) -> SawPlan | None:
    """The plan as seen at a time, or None where no cut is planned.

    saw -- kind and rate; None = a conventional saw at the usual rate
    """
    if not cuts:
        return None
    now, rate = at.astimezone(UTC), saw.rate_m_per_min if saw else USUAL_RATE_M_PER_MIN
    seen = sorted((test for test in tests if test.at <= at), key=lambda test: test.at)
    spans = {load.id: _span(load) for load in loads}
    told = [_told(cut, spans, seen, rate) for cut in cuts]
    timed = _run(_with_start_by(told), now, 1)
    left = [one for one in timed if one.cut.made_at is None]
    starts = [one.start_by for one in left if one.start_by is not None]
    late = [one.cut.id for one in left if one.late]
    opens = [one.opens for one in left if one.opens is not None]
    return SawPlan(
        kind=saw.kind if saw else "conventional",
        rate_m_per_min=rate,
        left_m=sum(one.cut.length_m for one in left),
        minutes_left=sum(one.minutes for one in left),
        opens=min(opens, default=None),
        start_by=min(starts, default=None),
        short_from=late[0] if late else None,
        saws=_saws_needed(told, now) if left else None,
        tested=_tested(seen),
        cuts=tuple(timed),
    )


def _span(load: LoadTimeline) -> tuple[datetime | None, datetime | None]:
    """When one load's edges hold and when it must be cut: the early close of our model or practice's,
    whichever is sooner, and never less than two hours after the opening."""
    window, practice = load.windows["saw"], load.saw_practice
    if window is None:
        return practice.opens, practice.closes
    opens = window.opens.likely
    if window.closes is None:
        return opens, practice.closes
    return opens, min(window.closes.early, max(practice.closes, opens + LEAST_WINDOW))


def _told(
    cut: Cut,
    spans: Mapping[str, tuple[datetime | None, datetime | None]],
    tests: Sequence[TriedCut],
    rate: float,
) -> PlannedCut:
    """A cut opens with the last of its loads to hold and closes with the first to shut."""
    over = [name for name in (cut.loads or tuple(spans)) if name in spans]
    opens = [found for name in over if (found := _opens_after(spans[name][0], name, tests)) is not None]
    closes = [spans[name][1] for name in over if spans[name][1] is not None]
    return PlannedCut(
        cut=cut,
        minutes=cut.length_m / rate,
        opens=max(opens, default=None),
        closes=min((at for at in closes if at is not None), default=None),
        start_by=None,
        starts=None,
        ends=None,
        late=False,
    )


def _opens_after(opens: datetime | None, load: str, tests: Sequence[TriedCut]) -> datetime | None:
    """The opening as the last test on this load leaves it: sooner where the edges held, later where not."""
    mine = [test for test in tests if test.load in (None, load)]
    if not mine:
        return opens
    last = mine[-1]
    tried = last.at.astimezone(UTC)
    if last.result == "clean":
        return tried if opens is None else min(opens, tried)
    again = tried + WAIT[last.result]
    return again if opens is None else max(opens, again)


def _with_start_by(told: Sequence[PlannedCut]) -> list[PlannedCut]:
    """Each cut's latest start: its close less its own time and that of every cut before it still to make."""
    used = accumulate(one.minutes if one.cut.made_at is None else 0.0 for one in told)
    return [
        replace(one, start_by=None if one.closes is None else _floor(one.closes - timedelta(minutes=minutes)))
        if one.cut.made_at is None
        else one
        for one, minutes in zip(told, used, strict=True)
    ]


def _run(told: Sequence[PlannedCut], now: datetime, saws: int) -> list[PlannedCut]:
    """The cuts as they go if the saw starts as soon as it may, waiting where edges do not hold yet."""
    free = now
    found = []
    for one in told:
        if one.cut.made_at is not None:
            found.append(one)
            continue
        starts = max(free, one.opens or free)
        free = starts + timedelta(minutes=one.minutes / saws)
        late = one.closes is not None and free > one.closes
        found.append(replace(one, starts=_floor(starts), ends=_floor(free), late=late))
    return found


def _saws_needed(told: Sequence[PlannedCut], now: datetime) -> int | None:
    for saws in range(1, MOST_SAWS + 1):
        if not any(one.late for one in _run(told, now, saws)):
            return saws
    return None


def _tested(tests: Sequence[TriedCut]) -> Tested | None:
    if not tests:
        return None
    last = tests[-1]
    wait = WAIT[last.result]
    return Tested(last, last.at.astimezone(UTC) + wait if wait else None)


def _floor(at: datetime) -> datetime:
    return at - timedelta(seconds=math.fmod(at.timestamp(), 1.0))
