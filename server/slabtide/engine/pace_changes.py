"""What would change a race: each lever pulled alone, and whether it is worth pulling."""

import math
from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass, replace

from slabtide.engine.crew import CrewRate, crew_rate
from slabtide.engine.ensemble import quantiles
from slabtide.engine.pour import Admixture, Mix, Texturing
from slabtide.engine.race import Leg, chance_to_miss, least_slack_s, run_race
from slabtide.engine.recipe import set_ratio
from slabtide.engine.timeline import PaceChange, PaceChangeName, PaceUnit

Slower = Callable[[float], Leg]
Lever = tuple[PaceChangeName, float, PaceUnit, tuple[float, float]]

RETARDER_DOSE = 0.5  # of the maker's usual dose (EST)
SAFE_CHANCE = 0.10
HELPS_BY_CHANCE = 0.05  # a lever that takes less off the chance to miss is no help (EST)
HELPS_BY_MINUTES = 10.0  # unless it brings so much more in hand where it is tightest (EST)
_NOTHING_TO_HELP = 0.05  # below this chance to miss no help is looked for in minutes (EST)
_STEPS = 10
_MOST_LEFT_OFF = 0.6


@dataclass(frozen=True, slots=True)
class Race:
    """A race that is still to be run: the loads in order, the crew and the share of its pace it keeps, when
    it is ready, and how soon it could be (None = it has begun) [s]."""

    legs: Sequence[Leg]
    texturing: Texturing
    speed: float
    ready_s: float
    soonest_s: float | None

    def rate(self, people: int = 0, mats: int = 0) -> CrewRate:
        """The crew's pace with so many people and mats more."""
        crew = self.texturing
        more = replace(crew, people=crew.people + people, mats=crew.mats + mats)
        return crew_rate(more).times(self.speed)


def helpful_changes(race: Race, slower: Mapping[str, Slower], unplaced: set[str]) -> tuple[PaceChange, ...]:
    """Every lever still in reach that helps, each alone.

    race -- the race as it stands
    slower -- for each load not batched yet, what it would be with its set factor times a ratio
    unplaced -- loads not placed yet, which can still be made smaller
    """
    before, slack_min = _outcome(race, race.legs, race.rate())
    found = []
    for change, amount, unit, (after, slack_after) in _levers(race, slower, unplaced):
        gained = slack_after - slack_min
        if amount > 0 and (before - after >= HELPS_BY_CHANCE or _brings_time(before, slack_after, gained)):
            found.append(PaceChange(change, amount, unit, after, gained))
    return tuple(found)


def _brings_time(before: float, slack_after_min: float, gained_min: float) -> bool:
    """Whether a lever brings minutes worth having: not where all is safe, or where it is still too late."""
    return before >= _NOTHING_TO_HELP and slack_after_min >= 0.0 and gained_min >= HELPS_BY_MINUTES


def _levers(race: Race, slower: Mapping[str, Slower], unplaced: set[str]) -> Iterator[Lever]:
    legs, rate = race.legs, race.rate()
    if race.soonest_s is not None:
        sooner = round((race.ready_s - race.soonest_s) / 60.0)
        yield "start_earlier", sooner, "minutes", _outcome(race, legs, rate, race.soonest_s)
    yield "one_more_hand", 1, "people", _outcome(race, legs, race.rate(people=1))
    mats = race.texturing.mats
    yield "another_set_of_mats", mats, "mats", _outcome(race, legs, race.rate(mats=mats))
    if unplaced & {leg.id for leg in legs}:
        yield _smaller(race, rate, unplaced)
    later = {leg.id for leg in legs[1:]} & set(slower)
    if later:
        ratio = set_ratio(Mix(admixtures=(Admixture("D", RETARDER_DOSE),)))
        slowed = [slower[leg.id](ratio) if leg.id in later else leg for leg in legs]
        yield "retarder_in_later_loads", RETARDER_DOSE, "usual_dose", _outcome(race, slowed, rate)


def _outcome(
    race: Race, legs: Sequence[Leg], rate: CrewRate, ready_s: float | None = None
) -> tuple[float, float]:
    """Chance to miss, and the minutes likely in hand where it is tightest."""
    passages = run_race(legs, rate, race.ready_s if ready_s is None else ready_s)
    return chance_to_miss(passages), quantiles(least_slack_s(passages))[1] / 60.0


def _smaller(race: Race, rate: CrewRate, unplaced: set[str]) -> Lever:
    """The least area left off, in tenths of what can be, that makes the race safe; else the most."""
    whole = sum(leg.area_m2 for leg in race.legs)
    open_m2 = sum(leg.area_m2 for leg in race.legs if leg.id in unplaced)
    most = min(_MOST_LEFT_OFF * whole, open_m2)
    left_off, outcome = most, (1.0, 0.0)
    for step in range(1, _STEPS + 1):
        left_off = most * step / _STEPS
        outcome = _outcome(race, _without(race.legs, left_off, unplaced), rate)
        if outcome[0] <= SAFE_CHANCE:
            break
    return "smaller_pour", math.ceil(left_off * 10.0 - 1e-6) / 10.0, "m2", outcome


def _without(legs: Sequence[Leg], left_off_m2: float, unplaced: set[str]) -> list[Leg]:
    """The loads with an area taken off the last ones that are not placed yet; an emptied load is gone."""
    kept: list[Leg] = []
    for leg in reversed(legs):
        taken = min(left_off_m2, leg.area_m2) if leg.id in unplaced else 0.0
        left_off_m2 -= taken
        if leg.area_m2 - taken > 1e-9 or (not kept and leg is legs[0]):
            kept.insert(0, replace(leg, area_m2=leg.area_m2 - taken))
    return kept
