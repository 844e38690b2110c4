"""One function gives it all: a pour in, its timeline out."""

import math
from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime

from slabtide.engine.clocks import time_at, value_at
from slabtide.engine.column import slab_column
from slabtide.engine.covers import spans_of
from slabtide.engine.cracking import StressPath, stress_path
from slabtide.engine.ensemble import BRANCHES, LIKELY
from slabtide.engine.forcing import hourly_forcing
from slabtide.engine.history import FINE_UNTIL_S, Birth, History, follow
from slabtide.engine.learning import Reading, learned_set_factor
from slabtide.engine.load_state import LoadState, slow_ratio
from slabtide.engine.notices import Clock, LoadView, all_notices
from slabtide.engine.pour import Load, Pour
from slabtide.engine.recipe import mix_words, resolved_pour
from slabtide.engine.saw_practice import drops_at, load_practice
from slabtide.engine.setting import (
    TEXTURE_CLOSES_MPA,
    age_at_penetration_h,
    final_set_h,
    initial_set_h,
    penetration_mpa,
)
from slabtide.engine.slots import Hour, find_slots
from slabtide.engine.spoiling import freezes_at
from slabtide.engine.strength import strength_mpa
from slabtide.engine.surface import footprint_age_h
from slabtide.engine.timeline import (
    SLOT_NAMES,
    CurvePoint,
    LoadTimeline,
    SawPractice,
    Slot,
    SlotName,
    Timeline,
    When,
    Window,
    WindowName,
)
from slabtide.engine.windows import Band, load_bands

_COARSE_CURVE_S = 1800


def forecast(pour: Pour, at: datetime) -> Timeline:
    """The timeline of a pour as seen at a time: same input, same output, to the second.

    pour -- the pour, as `contract.read_pour` gives it
    at -- now, with UTC offset. Weather before it counts as measured, checks after it are not seen

    Raises: ValueError when `at` has no UTC offset.
    """
    if at.utcoffset() is None:
        raise ValueError("at needs a UTC offset")
    words = mix_words(pour.mix)
    pour = resolved_pour(pour)
    clock = Clock(pour.weather.hourly[0].at)
    runs = _runs(pour, at, clock)
    views = [_view(pour, run) for run in runs]
    loads = tuple(_timeline(pour, run, view, clock) for run, view in zip(runs, views, strict=True))
    return Timeline(
        time_zone=pour.time_zone,
        loads=loads,
        slots=_slots(pour, at, runs, loads, clock),
        warnings=all_notices(pour, views, clock),
        mix_words=words,
        version=pour.version,
    )


@dataclass(frozen=True, slots=True)
class _Run:
    """A load, its histories in every branch of the weather, and what is learned of its set factor."""

    load: Load
    state: LoadState

    @property
    def likely(self) -> History:
        return self.state.likely


def _runs(pour: Pour, at: datetime, clock: Clock) -> list[_Run]:
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    branches = [
        hourly_forcing(pour.weather.hourly, pour.slab.solar_absorptivity, at, branch, pour.slab.shade)
        for branch in BRANCHES
    ]
    births = {load.id: _birth(pour, load, clock) for load in pour.loads}
    ratio = slow_ratio(pour.mix.set_factor_sd)
    slow_mix = replace(pour.mix, set_factor=pour.mix.set_factor * ratio)
    histories = {
        id: [follow(birth, pour.mix, column, hours) for hours in branches] for id, birth in births.items()
    }
    runs = []
    for load in pour.loads:
        readings = _readings(pour, load, histories, at, clock)
        factor, sd = learned_set_factor(pour.mix.set_factor, pour.mix.set_factor_sd, readings)
        slow = follow(births[load.id], slow_mix, column, branches[LIKELY])
        placed_to_s = _seconds(load.placed_to, clock)
        state = LoadState(pour, load, placed_to_s, histories[load.id], slow, ratio, factor, sd)
        runs.append(_Run(load, state))
    return runs


def _seconds(time: datetime, clock: Clock) -> float:
    return (time - clock.anchor).total_seconds()


def _birth(pour: Pour, load: Load, clock: Clock) -> Birth:
    begins, batched = load.placed_from.astimezone(UTC), load.batched_at.astimezone(UTC)
    middle = begins + (load.placed_to - begins) / 2
    return Birth(
        start_s=round(_seconds(middle, clock)),
        since_batch_h=(middle - batched).total_seconds() / 3600.0,
        concrete_temp_c=load.concrete_temp_c,
        ground_temp_c=pour.slab.ground_temp_c,
        thickness_m=pour.slab.thickness_m,
        covers=spans_of(pour.covers, load.id, clock.anchor),
    )


def _readings(
    pour: Pour, load: Load, histories: dict[str, list[History]], at: datetime, clock: Clock
) -> list[Reading]:
    """The checks seen so far, each beside the likely clocks of the load it was made on."""
    mix = pour.mix
    firm_h = footprint_age_h(mix)
    too_firm_h = age_at_penetration_h(TEXTURE_CLOSES_MPA, initial_set_h(mix), final_set_h(mix))
    readings = []
    for check in pour.checks:
        history = histories[check.load][LIKELY]
        seconds = _seconds(check.at, clock)
        if check.at > at or not history.times_s[0] <= seconds <= history.times_s[-1]:
            continue
        index = bisect_right(history.times_s, seconds) - 1
        firm, too_firm = history.surface_age_h[index] / firm_h, history.top_age_h[index] / too_firm_h
        if firm > 0.0 and too_firm > 0.0:
            readings.append(Reading(check.kind, check.depth_mm, firm, too_firm, check.load == load.id))
    return readings


def _view(pour: Pour, run: _Run) -> LoadView:
    history, factor = run.likely, run.state.set_factor
    final_s = time_at(history.times_s, history.mean_age_h, final_set_h(pour.mix) * factor)
    frosts = [freezes_at(h, pour, factor) for h in run.state.histories]
    likely_frost = not math.isinf(frosts[LIKELY])
    frost_s = frosts[LIKELY] if likely_frost else min(frosts)
    drop_s = math.inf if math.isinf(final_s) else drops_at(history, final_s)
    return LoadView(
        load=run.load,
        history=history,
        bands=load_bands(run.state),
        final_set_s=min(final_s, history.times_s[-1]),
        frost_s=None if math.isinf(frost_s) else frost_s,
        frost_likely=likely_frost,
        drop_s=None if math.isinf(drop_s) else drop_s,
    )


def _timeline(pour: Pour, run: _Run, view: LoadView, clock: Clock) -> LoadTimeline:
    windows: dict[WindowName, Window | None] = {
        name: _window(band, clock) for name, band in view.bands.items()
    }
    return LoadTimeline(
        id=run.load.id,
        windows=windows,
        curve=_curve(pour, run, clock),
        set_factor=run.state.set_factor,
        set_factor_sd=run.state.set_factor_sd,
        saw_practice=_practice(pour, view, clock),
    )


def _practice(pour: Pour, view: LoadView, clock: Clock) -> SawPractice:
    """The handbooks' saw; finishing ends with texturing, or at final set where there is none."""
    texture = view.bands["texture"].closes
    finished_s = texture[1] if texture else view.final_set_s
    drop_s = math.inf if view.drop_s is None else view.drop_s
    span = load_practice(pour, view.load, finished_s, drop_s)
    drop = None if span.drop_s is None else clock.at(span.drop_s)
    return SawPractice(clock.at(span.opens_s), clock.at(span.closes_s), drop, span.source)


def _window(band: Band, clock: Clock) -> Window | None:
    if band.opens is None:
        return None
    closes = When(*(clock.at(s) for s in band.closes)) if band.closes else None
    return Window(When(*(clock.at(s) for s in band.opens)), closes)


def _curve(pour: Pour, run: _Run, clock: Clock) -> tuple[CurvePoint, ...]:
    """The likely state, every 5 minutes for a day, then every half hour."""
    history, factor, mix = run.likely, run.state.set_factor, pour.mix
    initial, final = initial_set_h(mix), final_set_h(mix)
    path = stress_path(history, pour, factor)
    points = []
    for i, time in enumerate(history.times_s):
        passed = time - history.times_s[0]
        if passed > FINE_UNTIL_S and passed % _COARSE_CURVE_S:
            continue
        age = history.mean_age_h[i]
        points.append(
            CurvePoint(
                at=clock.at(time),
                surface_temp_c=history.surface_c[i],
                mean_temp_c=history.mean_c[i],
                equivalent_age_h=age,
                penetration_mpa=penetration_mpa(history.top_age_h[i] / factor, initial, final),
                strength_mpa=strength_mpa(age / factor / mix.strength_slowness, mix.design_strength_mpa),
                stress_ratio=_ratio_at(path, time),
                evaporation_kg_m2_h=history.loss[i],
            )
        )
    return tuple(points)


def _ratio_at(path: StressPath, time: float) -> float:
    if not path.times_s or time <= path.times_s[0]:
        return 0.0
    return value_at(path.times_s, path.ratios, time)


def _slots(
    pour: Pour, at: datetime, runs: Sequence[_Run], loads: Sequence[LoadTimeline], clock: Clock
) -> dict[SlotName, tuple[Slot, ...]]:
    hours = [
        Hour(hour, min(_surface_at(run.likely, index * 3600, hour.air_temp_c) for run in runs))
        for index, hour in enumerate(pour.weather.hourly)
    ]
    first: dict[SlotName, int | None] = {}
    for name in SLOT_NAMES:
        windows = [load.windows[name] for load in loads]
        sound = [window.opens.likely for window in windows if window is not None]
        ready = max([*sound, at.astimezone(UTC)]) if len(sound) == len(windows) else None
        first[name] = None if ready is None else math.ceil(_seconds(ready, clock) / 3600.0)
    return find_slots(hours, first)


def _surface_at(history: History, seconds: int, air_temp_c: float) -> float:
    """The surface as worked out, or the air where the history doesn't reach [°C]."""
    if not history.times_s[0] <= seconds <= history.times_s[-1]:
        return air_temp_c
    return value_at(history.times_s, history.surface_c, seconds)
