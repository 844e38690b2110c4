"""Whether this crew makes it along this slab: when to start, how each load fares, and what would help.

The loads go together member by member, as far as loads of one mix on one day do. The crew plans to be
ready when the first load is likely to open, starts when it is ready and open, works the loads in the order in
which they close, and can't work a load before it opens. Once it has begun, the race goes on from where it is.
"""

import math
from collections.abc import Sequence
from dataclasses import replace
from datetime import datetime

from slabtide.engine.crew import TAMPER_FROM_MPA, CrewRate, crew_rate
from slabtide.engine.ensemble import MEMBERS, quantiles, sister_order
from slabtide.engine.load_state import LoadState
from slabtide.engine.notices import Clock
from slabtide.engine.pace_calls import calls_for, release_lead, tamper_chance
from slabtide.engine.pace_changes import Race, Slower, helpful_changes
from slabtide.engine.pace_progress import Progress, left_to_do, planned_m2, progress_of
from slabtide.engine.pour import Pour
from slabtide.engine.race import Leg, Passage, chance_to_miss, latest_starts, least_slack_s, run_race
from slabtide.engine.runs import Run
from slabtide.engine.timeline import LoadPace, Pace, When, Where
from slabtide.engine.windows import resistance_times, texture_spans


def pace_of(pour: Pour, runs: Sequence[Run], at: datetime, clock: Clock) -> Pace | None:
    """The race of a pour as it stands at a time; None when nobody is told to texture, or nothing is left."""
    crew = pour.texturing
    if crew is None:
        return None
    whole, told, at_s = legs_of(runs), crew_rate(crew), clock.seconds(at)
    progress = progress_of(crew.worked, whole, told, at, clock)
    legs = left_to_do(whole, progress, at_s)
    if not legs:
        return None
    rate = told.times(progress.speed)
    opens = quantiles(legs[0].opens_s)
    ready_s = at_s if progress.begun else max(opens[1], at_s)
    passages = run_race(legs, rate, ready_s)
    starts = [start for start in latest_starts(legs, rate) if start is not None]
    loads = tuple(_load_pace(leg, passage, clock) for leg, passage in zip(legs, passages, strict=True))
    first = next(run for run in runs if run.load.id == legs[0].id)
    release = release_lead(first, quantiles(passages[0].reached_s)[1], rate.soft_m2_h)
    soonest_s = None if progress.begun else max(opens[0], at_s)
    race = Race(legs, crew, progress.speed, ready_s, soonest_s)
    return Pace(
        rate=rate,
        ready_at=clock.at(ready_s),
        opens=_when(legs[0].opens_s, clock),
        start_by=_when(starts, clock) if 2 * len(starts) >= len(MEMBERS) else None,
        where=_where(whole, legs, progress, told, at_s),
        loads=loads,
        chance_to_miss=chance_to_miss(passages),
        slack_minutes=_minutes(least_slack_s(passages)),
        limiting=_limiting(legs, passages),
        release=release,
        calls=calls_for(legs, passages, crew, progress.speed, ready_s, release, clock),
        changes=helpful_changes(race, _slower(runs, at), _unplaced(runs, at)),
    )


def _where(
    whole: Sequence[Leg], left: Sequence[Leg], progress: Progress, told: CrewRate, at_s: float
) -> Where:
    """How far the crew is beside the plan: begun at the likely opening, at the pace told."""
    left_m2 = sum(leg.area_m2 for leg in left)
    done_m2 = sum(leg.area_m2 for leg in whole) - left_m2
    plan = run_race(whole, told, quantiles(whole[0].opens_s)[1])
    planned = planned_m2(whole, plan, told, at_s)
    behind = 60.0 * (planned - done_m2) / told.tamper_m2_h
    return Where(
        begun=progress.begun,
        load=progress.at_work,
        done_m2=done_m2,
        left_m2=left_m2,
        planned_m2=planned,
        behind_minutes=behind,
        speed=progress.speed,
        timed_minutes=progress.timed_minutes,
    )


def legs_of(runs: Sequence[Run]) -> list[Leg]:
    """The race of all loads, in the order of work."""
    return in_order([leg_of(run.state, turn) for turn, run in enumerate(runs)])


def leg_of(state: LoadState, turn: int) -> Leg:
    """A load's part of the race, its members set beside those of the first load; `turn` is its place.

    The race is with the concrete's own clock: what weather may spoil is told by its own notice.
    """
    order = sister_order(turn, state.together)
    spans = texture_spans(state if state.placed else replace(state, placed=True))
    tamper = resistance_times(state, TAMPER_FROM_MPA)
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
    tamper_s = quantiles(leg.tamper_s)[1]
    return LoadPace(
        id=leg.id,
        left_m2=leg.area_m2,
        reached=_when(passage.reached_s, clock),
        finished=_when(passage.finished_s, clock),
        closes=_when(leg.closes_s, clock),
        slack_minutes=_minutes(passage.slack_s),
        chance_to_miss=chance_to_miss([passage]),
        tamper_from=None if math.isinf(tamper_s) else clock.at(tamper_s),
        tamper_chance=tamper_chance(leg, passage),
    )


def _minutes(seconds: Sequence[float]) -> tuple[float, float, float]:
    early, likely, late = (value / 60.0 for value in quantiles(seconds))
    return early, likely, late


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
