"""Whether work fell inside its window: what was predicted beside what was done."""

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal

from slabtide.log.instants import read_instant
from slabtide.log.model import Bay, Cut, JobView, Load, Spot

Work = Literal["edge", "mag", "texture", "saw"]
WORK: tuple[Work, ...] = ("edge", "mag", "texture", "saw")
Three = Mapping[str, str]
Told = Mapping[str, Mapping[str, Any]]
"""Windows by load, then by work: {"opens", "closes"}, each early, likely and late, or None."""
NEAR_M = 0.3
"""How near a bay a cut's middle lies to count as the bay's own; a cut on a shared side counts for both."""


@dataclass(frozen=True, slots=True)
class Done:
    """When work was done; `ends` None while it runs."""

    begins: datetime
    ends: datetime | None


@dataclass(frozen=True, slots=True)
class Kept:
    """One window of one load, and the work on it. `early_min`, `late_min`: how far outside; 0 inside."""

    load: Load
    work: Work
    opens: Three | None
    closes: Three | None
    done: Done | None
    early_min: float
    late_min: float


def told_in(timeline: Mapping[str, Any] | None) -> Told:
    """The windows of a timeline, by load."""
    return {str(load["id"]): load["windows"] for load in (timeline or {}).get("loads", ())}


def windows_kept(view: JobView, windows: Told) -> list[Kept]:
    """Every window that was told of every load that was ticketed."""
    return [
        kept for load in view.loads if load.id in windows for kept in _of_load(view, load, windows[load.id])
    ]


def _of_load(view: JobView, load: Load, windows: Mapping[str, Any]) -> Iterator[Kept]:
    for work in WORK:
        window = windows.get(work)
        if window is None:
            continue
        opens, closes = window.get("opens"), window.get("closes")
        done = _sawn(view, load) if work == "saw" else _worked(view, load, work)
        yield Kept(load, work, opens, closes, done, _early(opens, done), _late(closes, done))


def _worked(view: JobView, load: Load, work: str) -> Done | None:
    """First start to last end over the load's bays; with one load, bays that name none are its own."""
    bays = [bay for bay in view.bays if bay.load == load.id or (bay.load is None and len(view.loads) == 1)]
    steps = [bay.steps[work] for bay in bays if work in bay.steps]
    starts = [read_instant(mark.at) for step in steps if (mark := step.start or step.end)]
    ends = [read_instant(step.end.at) for step in steps if step.end]
    if not starts:
        return None
    return Done(min(starts), max(ends) if len(ends) == len(bays) else None)


def _sawn(view: JobView, load: Load) -> Done | None:
    """First to last cut along or across the load's bays; a cut that says not where counts for every load."""
    bays = [bay for bay in view.bays if bay.load == load.id]
    cuts = [read_instant(cut.at) for cut in view.cuts if not bays or any(_touches(cut, bay) for bay in bays)]
    return Done(min(cuts), max(cuts) if view.cuts_done else None) if cuts else None


def _touches(cut: Cut, bay: Bay) -> bool:
    if cut.from_ is None or cut.to is None:
        return True
    middle = ((cut.from_[0] + cut.to[0]) / 2, (cut.from_[1] + cut.to[1]) / 2)
    return distance_m(middle, bay.corners) <= NEAR_M


def distance_m(spot: Spot, corners: Sequence[Spot]) -> float:
    """From a point to a polygon, 0 inside, m."""
    inside, nearest = False, math.inf
    for (x1, y1), (x2, y2) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (y1 > spot[1]) != (y2 > spot[1]) and spot[0] < (x2 - x1) * (spot[1] - y1) / (y2 - y1) + x1:
            inside = not inside
        length = (x2 - x1) ** 2 + (y2 - y1) ** 2
        along = ((spot[0] - x1) * (x2 - x1) + (spot[1] - y1) * (y2 - y1)) / length if length else 0.0
        along = min(max(along, 0.0), 1.0)
        nearest = min(nearest, math.dist(spot, (x1 + along * (x2 - x1), y1 + along * (y2 - y1))))
    return 0.0 if inside else nearest


def _early(opens: Three | None, done: Done | None) -> float:
    if opens is None or done is None:
        return 0.0
    return max(0.0, (read_instant(opens["likely"]) - done.begins).total_seconds() / 60)


def _late(closes: Three | None, done: Done | None) -> float:
    if closes is None or done is None:
        return 0.0
    return max(0.0, ((done.ends or done.begins) - read_instant(closes["likely"])).total_seconds() / 60)
