"""Every load of a pour in all the ways it may go, with what the checks have taught of it."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from slabtide.engine.clocks import value_at
from slabtide.engine.column import slab_column
from slabtide.engine.covers import spans_of
from slabtide.engine.ensemble import BRANCHES, LIKELY
from slabtide.engine.forcing import hourly_forcing
from slabtide.engine.history import SPREAD_COARSE_S, Birth, History, felt, follow
from slabtide.engine.learning import Belief, learn
from slabtide.engine.load_state import LoadState, slow_ratio
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Load, Mix, Pour, SurfaceCheck
from slabtide.engine.readings import Reading
from slabtide.engine.recipe import resolved
from slabtide.engine.setting import (
    TEXTURE_CLOSES_MPA,
    age_at_penetration_h,
    final_set_h,
    initial_set_h,
)
from slabtide.engine.solved import Solved
from slabtide.engine.surface import footprint_age_h


@dataclass(frozen=True, slots=True)
class Run:
    """A load and its state; `expected` is the same before any check; `solved` is where its heat is kept."""

    load: Load
    state: LoadState
    expected: Belief
    solved: Solved

    @property
    def likely(self) -> History:
        """The history in the middle branch of the weather."""
        return self.state.likely


@dataclass(frozen=True, slots=True)
class Seen:
    """The checks a forecast rests on, in order of time, each beside its reading, and which contradict."""

    checks: tuple[SurfaceCheck, ...] = ()
    readings: tuple[Reading, ...] = ()
    contradictory: frozenset[int] = frozenset()


def run_loads(pour: Pour, at: datetime, clock: Clock, solved: Solved | None = None) -> tuple[list[Run], Seen]:
    """All loads with their heat solved and their checks weighed.

    pour -- as read; each load's mix is resolved here, with what was added to that load alone
    at -- now; checks after it are not seen
    solved -- heat that was solved before, and where this is kept
    """
    plain = unlearned_runs(pour, at, clock, solved)
    return taught(plain, pour, at, clock)


def unlearned_runs(pour: Pour, at: datetime, clock: Clock, solved: Solved | None = None) -> list[Run]:
    """All loads with their heat solved, no check weighed.

    Only the branches to either side rest on `at`: weather ahead is the less sure. The middle one and the
    slower mix in it go on as they were solved, while load and weather stay as they are.
    """
    heat = Solved() if solved is None else solved
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    branches = [
        hourly_forcing(pour.weather.hourly, pour.slab.solar_absorptivity, at, branch, pour.slab.shade)
        for branch in BRANCHES
    ]
    runs = []
    for load in pour.loads:
        own = replace(pour, mix=mix_of(pour, load))
        mix = own.mix
        birth, ratio = _birth(own, load, clock), slow_ratio(mix.set_factor_sd)
        slow_mix = replace(mix, set_factor=mix.set_factor * ratio)
        histories = [
            heat.of(follow, birth, mix, column, hours, None, None if k == LIKELY else SPREAD_COARSE_S)
            for k, hours in enumerate(felt(birth, told) for told in branches)
        ]
        likely = felt(birth, branches[LIKELY])
        slow = heat.of(follow, birth, slow_mix, column, likely, None, SPREAD_COARSE_S)
        placed_to_s = clock.seconds(load.placed_to)
        state = LoadState(
            own,
            load,
            placed_to_s,
            histories,
            slow,
            ratio,
            mix.set_factor,
            mix.set_factor_sd,
            placed=load.placed_from <= at,
        )
        runs.append(Run(load, state, Belief(mix.set_factor, mix.set_factor_sd), heat))
    return runs


def likely_history(pour: Pour, load: Load, at: datetime, clock: Clock) -> History:
    """One load in the middle branch of the weather alone, as far as the pour's weather reaches."""
    own = replace(pour, mix=mix_of(pour, load))
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    hourly, slab = pour.weather.hourly, pour.slab
    hours = hourly_forcing(hourly, slab.solar_absorptivity, at, BRANCHES[LIKELY], slab.shade)
    return follow(_birth(own, load, clock), own.mix, column, hours)


def taught(runs: Sequence[Run], pour: Pour, at: datetime, clock: Clock) -> tuple[list[Run], Seen]:
    """The runs with the checks seen by `at` weighed, and what was seen."""
    by_id = {run.load.id: run for run in runs}
    seen = []
    for check in sorted(pour.checks, key=lambda check: clock.seconds(check.at)):
        reading = None if check.at > at else _reading(check, by_id[check.load].state, clock)
        if reading is not None:
            seen.append((check, reading))
    checks, readings = tuple(check for check, _ in seen), tuple(reading for _, reading in seen)
    beliefs, contradictory = beliefs_after(runs, pour, readings)
    after = [replace(run, state=believing(run.state, beliefs[run.load.id])) for run in runs]
    return after, Seen(checks, readings, contradictory)


def beliefs_after(
    runs: Sequence[Run], pour: Pour, readings: Sequence[Reading]
) -> tuple[Mapping[str, Belief], frozenset[int]]:
    """Set factor per load after some readings, and the places of those that contradict.

    What a load's own admixture adds to the doubt of the mix no check on a sister takes away.
    """
    common = resolved(pour.mix)
    prior = Belief(common.set_factor, common.set_factor_sd)
    lesson = runs[0].solved.of(learn, prior, tuple(run.load.id for run in runs), tuple(readings))
    beliefs = {}
    for run in runs:
        extra = max(0.0, run.expected.set_factor_sd**2 - prior.set_factor_sd**2)
        belief = lesson.beliefs[run.load.id]
        sd = math.sqrt(belief.set_factor_sd**2 + extra)
        alone = belief.set_factor_sd / sd if sd > 0.0 else 1.0
        together = round(belief.together * alone, 2)
        beliefs[run.load.id] = Belief(belief.set_factor, sd, belief.per_weather, together)
    return beliefs, lesson.contradictory


def believing(state: LoadState, belief: Belief) -> LoadState:
    """A load's state with what is believed of its set factor."""
    return replace(
        state,
        set_factor=belief.set_factor,
        set_factor_sd=belief.set_factor_sd,
        per_weather=belief.per_weather,
        together=belief.together,
    )


def mix_of(pour: Pour, load: Load) -> Mix:
    """The mix of one load, with what was added to it alone."""
    return resolved(replace(pour.mix, admixtures=(*pour.mix.admixtures, *load.admixtures)))


def _birth(pour: Pour, load: Load, clock: Clock) -> Birth:
    begins, batched = load.placed_from.astimezone(UTC), load.batched_at.astimezone(UTC)
    middle = begins + (load.placed_to - begins) / 2
    return Birth(
        start_s=round(clock.seconds(middle)),
        since_batch_h=(middle - batched).total_seconds() / 3600.0,
        concrete_temp_c=load.concrete_temp_c,
        ground_temp_c=pour.slab.ground_temp_c,
        thickness_m=pour.slab.thickness_m,
        covers=spans_of(pour.covers, load.id, clock.anchor),
    )


def _reading(check: SurfaceCheck, state: LoadState, clock: Clock) -> Reading | None:
    """A check beside the likely clocks of its load; None outside its history."""
    seconds = clock.seconds(check.at)
    if not state.likely.times_s[0] <= seconds <= state.likely.times_s[-1]:
        return None
    cool, likely, warm = (_factors_told(history, state, seconds) for history in state.histories)
    if min(*cool, *likely, *warm) <= 0.0:
        return None
    firm, too_firm = (
        (math.log(w) - math.log(c)) / (BRANCHES[-1] - BRANCHES[0]) for c, w in zip(cool, warm, strict=True)
    )
    firm_log, too_firm_log = map(math.log, likely)
    return Reading(check.load, check.kind, check.depth_mm, seconds, firm_log, too_firm_log, firm, too_firm)


def _factors_told(history: History, state: LoadState, seconds: float) -> tuple[float, float]:
    """The set factors at which a load would just then have come to a 6 mm footprint, and to the end of
    texturing, in one branch of the weather."""
    mix = state.pour.mix
    too_firm_h = age_at_penetration_h(TEXTURE_CLOSES_MPA, initial_set_h(mix), final_set_h(mix))
    surface_h = value_at(history.times_s, history.surface_age_h, seconds)
    top_h = value_at(history.times_s, history.top_age_h, seconds)
    return (
        state.factor_needing("surface_age_h", footprint_age_h(mix), surface_h),
        state.factor_needing("top_age_h", too_firm_h, top_h),
    )
