"""What would change a race: each lever pulled alone, and the chance to miss after it."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import replace

from slabtide.engine.crew import CrewRate, crew_rate
from slabtide.engine.ensemble import quantiles
from slabtide.engine.pour import Admixture, Mix, Texturing
from slabtide.engine.race import Leg, chance_to_miss, run_race
from slabtide.engine.recipe import set_ratio
from slabtide.engine.timeline import PaceChange

Slower = Callable[[float], Leg]

RETARDER_DOSE = 0.5  # of the maker's usual dose (EST)
SAFE_CHANCE = 0.10
_STEPS = 10
_MOST_LEFT_OFF = 0.6


def helpful_changes(
    legs: Sequence[Leg], texturing: Texturing, slower: Mapping[str, Slower], unplaced: set[str]
) -> tuple[PaceChange, ...]:
    """Every lever still in reach, each alone.

    legs -- the loads in order
    slower -- for each load not batched yet, what it would be with its set factor times a ratio
    unplaced -- loads not placed yet, which can still be made smaller
    """
    return tuple(_changes(legs, texturing, slower, unplaced))


def _changes(
    legs: Sequence[Leg], texturing: Texturing, slower: Mapping[str, Slower], unplaced: set[str]
) -> Iterator[PaceChange]:
    rate = crew_rate(texturing)
    early, likely, _ = quantiles(legs[0].opens_s)
    soonest = chance_to_miss(run_race(legs, rate, early))
    yield PaceChange("start_earlier", round((likely - early) / 60.0), "minutes", soonest)
    more = replace(texturing, people=texturing.people + 1)
    yield PaceChange("one_more_hand", 1, "people", _missing(legs, crew_rate(more)))
    doubled = replace(texturing, mats=2 * texturing.mats)
    yield PaceChange("another_set_of_mats", texturing.mats, "mats", _missing(legs, crew_rate(doubled)))
    if unplaced:
        yield _smaller(legs, rate, unplaced)
    later = {leg.id for leg in legs[1:]} & set(slower)
    if later:
        ratio = set_ratio(Mix(admixtures=(Admixture("D", RETARDER_DOSE),)))
        slowed = [slower[leg.id](ratio) if leg.id in later else leg for leg in legs]
        yield PaceChange("retarder_in_later_loads", RETARDER_DOSE, "usual_dose", _missing(slowed, rate))


def _missing(legs: Sequence[Leg], rate: CrewRate) -> float:
    return chance_to_miss(run_race(legs, rate, quantiles(legs[0].opens_s)[1]))


def _smaller(legs: Sequence[Leg], rate: CrewRate, unplaced: set[str]) -> PaceChange:
    """The least area left off, in tenths of what can be, that makes the race safe; else the most."""
    whole = sum(leg.area_m2 for leg in legs)
    open_m2 = sum(leg.area_m2 for leg in legs if leg.id in unplaced)
    most = min(_MOST_LEFT_OFF * whole, open_m2)
    left_off, after = most, 1.0
    for step in range(1, _STEPS + 1):
        left_off = most * step / _STEPS
        after = _missing(_without(legs, left_off, unplaced), rate)
        if after <= SAFE_CHANCE:
            break
    return PaceChange("smaller_pour", math.ceil(left_off * 10.0 - 1e-6) / 10.0, "m2", after)


def _without(legs: Sequence[Leg], left_off_m2: float, unplaced: set[str]) -> list[Leg]:
    """The loads with an area taken off the last ones that are not placed yet; an emptied load is gone."""
    kept: list[Leg] = []
    for leg in reversed(legs):
        taken = min(left_off_m2, leg.area_m2) if leg.id in unplaced else 0.0
        left_off_m2 -= taken
        if leg.area_m2 - taken > 1e-9 or (not kept and leg is legs[0]):
            kept.insert(0, replace(leg, area_m2=leg.area_m2 - taken))
    return kept
