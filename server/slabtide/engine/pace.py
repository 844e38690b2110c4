"""Whether this crew makes it along this slab: when to start, how each load fares, and what would help.

The loads go together member by member: a warm day or a quick mix quickens them all. The crew plans to be
ready when the first load is likely to open, starts when it is ready and open, works the loads in the order in
which they close, and can't work a load before it opens.
"""

from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from slabtide.engine.crew import TAMPER_FROM_MPA, crew_rate
from slabtide.engine.ensemble import MEMBERS, quantiles
from slabtide.engine.load_state import LoadState
from slabtide.engine.notices import Clock
from slabtide.engine.pace_changes import Slower, helpful_changes
from slabtide.engine.pour import Pour, Texturing
from slabtide.engine.race import Leg, Passage, chance_to_miss, latest_starts, run_race
from slabtide.engine.runs import Run
from slabtide.engine.timeline import LoadPace, Pace, When
from slabtide.engine.windows import resistance_times, texture_spans


def pace_of(pour: Pour, runs: Sequence[Run], at: datetime, clock: Clock) -> Pace | None:
    """The race of a pour; None when nobody is told to texture."""
    if pour.texturing is None:
        return None
    legs = in_order([leg_of(run.state) for run in runs])
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


def leg_of(state: LoadState) -> Leg:
    """A load's part of the race."""
    spans = texture_spans(state)
    tamper = resistance_times(state, TAMPER_FROM_MPA)
    return Leg(state.load.id, state.load.area_m2, [s[0] for s in spans], [s[1] for s in spans], tamper)


def in_order(legs: Sequence[Leg]) -> list[Leg]:
    """The loads in the order in which they are likely to close; as poured where two close together."""
    return sorted(legs, key=lambda leg: round(quantiles(leg.closes_s)[1]))


def miss_chance(runs: Sequence[Run], texturing: Texturing) -> float:
    """The chance that some load is not done by its close [0..1], and nothing else of the race."""
    legs = in_order([leg_of(run.state) for run in runs])
    return chance_to_miss(run_race(legs, crew_rate(texturing), quantiles(legs[0].opens_s)[1]))


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

    def of(state: LoadState) -> Slower:
        return lambda ratio: leg_of(replace(state, set_factor=state.set_factor * ratio))

    return {run.load.id: of(run.state) for run in runs if run.load.batched_at > at}


def _unplaced(runs: Sequence[Run], at: datetime) -> set[str]:
    return {run.load.id for run in runs if run.load.placed_from > at}


def _when(seconds: Sequence[float], clock: Clock) -> When:
    return When(*(clock.at(s) for s in quantiles(seconds)))
