"""Whether this crew makes it along this slab: when to start, how each load fares, and what would help.

The loads go together member by member, as far as loads of one mix on one day do. The crew plans to be
ready when the first load is likely to open, starts when it is ready and open, works the loads in the order in
which they close, and can't work a load before it opens.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from slabtide.engine.crew import TAMPER_FROM_MPA, crew_rate
from slabtide.engine.ensemble import MEMBERS, quantiles, sister_order
from slabtide.engine.load_state import LoadState
from slabtide.engine.notices import Clock
from slabtide.engine.pace_changes import Slower, helpful_changes
from slabtide.engine.pour import Pour
from slabtide.engine.race import Leg, Passage, chance_to_miss, latest_starts, run_race
from slabtide.engine.runs import Run
from slabtide.engine.timeline import LoadPace, Pace, When
from slabtide.engine.windows import resistance_times, texture_spans


def pace_of(pour: Pour, runs: Sequence[Run], at: datetime, clock: Clock) -> Pace | None:
    """The race of a pour; None when nobody is told to texture."""
    if pour.texturing is None:
        return None
    legs = legs_of(runs)
    rate = crew_rate(pour.texturing)
    opens = quantiles(legs[0].opens_s)
    passages = run_race(legs, rate, opens[1])
    starts = [start for start in latest_starts(legs, rate) if start is not None]
    loads = tuple(_load_pace(leg, passage, clock) for leg, passage in zip(legs, passages, strict=True))
    return Pace(
        rate=rate,
        ready_at=clock.at(opens[1]),
        opens=_when(legs[0].opens_s, clock),
        start_by=_when(starts, clock) if 2 * len(starts) >= len(MEMBERS) else None,
        loads=loads,
        chance_to_miss=chance_to_miss(passages),
        limiting=_limiting(legs, passages),
        changes=helpful_changes(legs, pour.texturing, _slower(runs, at), _unplaced(runs, at)),
    )


def legs_of(runs: Sequence[Run]) -> list[Leg]:
    """The race of all loads, in the order of work."""
    return in_order([leg_of(run.state, turn) for turn, run in enumerate(runs)])


def leg_of(state: LoadState, turn: int) -> Leg:
    """A load's part of the race, its members set beside those of the first load; `turn` is its place."""
    order = sister_order(turn)
    spans, tamper = texture_spans(state), resistance_times(state, TAMPER_FROM_MPA)
    return Leg(
        state.load.id,
        state.load.area_m2,
        [spans[k][0] for k in order],
        [spans[k][1] for k in order],
        [tamper[k] for k in order],
    )


def in_order(legs: Sequence[Leg]) -> list[Leg]:
    """The loads in the order in which they are likely to close; as poured where two close together."""
    return sorted(legs, key=lambda leg: round(quantiles(leg.closes_s)[1]))


def _load_pace(leg: Leg, passage: Passage, clock: Clock) -> LoadPace:
    early, likely, late = (seconds / 60.0 for seconds in quantiles(passage.slack_s))
    return LoadPace(
        id=leg.id,
        reached=_when(passage.reached_s, clock),
        finished=_when(passage.finished_s, clock),
        closes=_when(leg.closes_s, clock),
        slack_minutes=(early, likely, late),
        chance_to_miss=chance_to_miss([passage]),
    )


def _limiting(legs: Sequence[Leg], passages: Sequence[Passage]) -> str:
    def urgency(k: int) -> tuple[float, int]:
        return -chance_to_miss([passages[k]]), round(quantiles(passages[k].slack_s)[1])

    return legs[min(range(len(legs)), key=urgency)].id


def _slower(runs: Sequence[Run], at: datetime) -> dict[str, Slower]:
    """What a retarder would make of each load that is not batched yet."""

    def of(state: LoadState, turn: int) -> Slower:
        return lambda ratio: leg_of(replace(state, set_factor=state.set_factor * ratio), turn)

    return {run.load.id: of(run.state, turn) for turn, run in enumerate(runs) if run.load.batched_at > at}


def _unplaced(runs: Sequence[Run], at: datetime) -> set[str]:
    return {run.load.id for run in runs if run.load.placed_from > at}


def _when(seconds: Sequence[float], clock: Clock) -> When:
    return When(*(clock.at(s) for s in quantiles(seconds)))
