"""The race along the slab, member by member: when each load is reached and finished, and when to begin."""

from collections.abc import Sequence
from dataclasses import dataclass

from slabtide.engine.crew import MOVE_MINUTES, CrewRate

_MOVE_S = MOVE_MINUTES * 60.0


@dataclass(frozen=True, slots=True)
class Leg:
    """One load of the race: its area [m2], and per member [s] when texturing opens, when it closes, and from
    when a mat wants the tamper. A member without a window opens as it closes."""

    id: str
    area_m2: float
    opens_s: Sequence[float]
    closes_s: Sequence[float]
    tamper_s: Sequence[float]


@dataclass(frozen=True, slots=True)
class Passage:
    """One load in every member [s]: reached, finished, finished short of its close (below zero: too late)."""

    reached_s: list[float]
    finished_s: list[float]
    slack_s: list[float]


def run_race(legs: Sequence[Leg], rate: CrewRate | Sequence[CrewRate], ready_s: float) -> list[Passage]:
    """Each load in order, the crew ready at `ready_s` and waiting for what is not open yet.

    rate -- the crew's, or one for each load where hands join on the way

    Where a load locks before it is done the crew leaves it then and goes on to the next.
    """
    rates = [rate] * len(legs) if isinstance(rate, CrewRate) else rate
    free = [ready_s] * len(legs[0].opens_s)
    passages = []
    for leg, rate in zip(legs, rates, strict=True):
        reached = list(map(max, free, leg.opens_s))
        finished = rate.finishes_s(reached, leg.area_m2, leg.tamper_s)
        slack = [close - end for close, end in zip(leg.closes_s, finished, strict=True)]
        free = [
            min(end, max(start, close)) + _MOVE_S
            for start, end, close in zip(reached, finished, leg.closes_s, strict=True)
        ]
        passages.append(Passage(reached, finished, slack))
    return passages


def chance_to_miss(passages: Sequence[Passage]) -> float:
    """Share of members in which any load is not done by its close [0..1]."""
    least = least_slack_s(passages)
    return sum(slack < 0.0 for slack in least) / len(least)


def least_slack_s(passages: Sequence[Passage]) -> list[float]:
    """Per member the least slack of any load [s]: what is in hand where it is tightest."""
    return list(map(min, zip(*(passage.slack_s for passage in passages), strict=True)))


def latest_starts(legs: Sequence[Leg], rate: CrewRate) -> list[float | None]:
    """Per member the latest start [s] from which every load is done by its close; None where none is."""
    count = len(legs[0].opens_s)
    latest: list[float | None] = [None] * count
    for k in range(count):
        latest[k] = _latest(legs, rate, k)
    return latest


def _latest(legs: Sequence[Leg], rate: CrewRate, k: int) -> float | None:
    start: float | None = None
    for leg in reversed(legs):
        due = leg.closes_s[k] if start is None else min(leg.closes_s[k], start - _MOVE_S)
        start = rate.start_s(due, leg.area_m2, leg.tamper_s[k])
        if start < leg.opens_s[k]:
            return None
    return start
