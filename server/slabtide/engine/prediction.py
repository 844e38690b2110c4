"""One function gives it all: a pour in, its timeline out."""

import math
from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.clocks import time_at, value_at
from slabtide.engine.cracking import StressPath, stress_path
from slabtide.engine.cut_plan import saw_plan
from slabtide.engine.days_ahead import days_ahead, slots_by_work
from slabtide.engine.ensemble import LIKELY
from slabtide.engine.history import FINE_UNTIL_S, History
from slabtide.engine.learned import contradiction_notices, learned_by_load
from slabtide.engine.notices import Clock, LoadView, all_notices
from slabtide.engine.pace import pace_of
from slabtide.engine.pour import Pour
from slabtide.engine.recipe import mix_words
from slabtide.engine.runs import Run, run_loads
from slabtide.engine.saw_practice import drops_at, load_practice
from slabtide.engine.setting import (
    final_set_h,
    initial_set_h,
    penetrations_mpa,
)
from slabtide.engine.solved import Solved
from slabtide.engine.spoiling import freezes_at
from slabtide.engine.strength import strength_mpa
from slabtide.engine.timeline import (
    CurvePoint,
    Learned,
    LoadTimeline,
    SawPractice,
    Timeline,
    When,
    Window,
    WindowName,
)
from slabtide.engine.windows import Band, load_bands

_COARSE_CURVE_S = 1800


def forecast(pour: Pour, at: datetime, solved: Solved | None = None) -> Timeline:
    """The timeline of a pour as seen at a time: same input, same output, to the second.

    pour -- the pour, as `contract.read_pour` gives it
    at -- now, with UTC offset. Weather before it counts as measured, checks after it are not seen
    solved -- heat that was solved for earlier forecasts, and where this one's is kept: it saves time and
        changes no digit

    Raises: ValueError when `at` has no UTC offset.
    """
    if at.utcoffset() is None:
        raise ValueError("at needs a UTC offset")
    words = mix_words(pour.mix)
    clock = Clock(pour.weather.hourly[0].at)
    runs, seen = run_loads(pour, at, clock, solved)
    views = [_view(run) for run in runs]
    textures = [view.bands["texture"] for view in views]
    learned = learned_by_load(pour, runs, textures, seen, clock)
    loads = tuple(
        _timeline(run, view, learned[run.load.id], clock) for run, view in zip(runs, views, strict=True)
    )
    days = days_ahead(pour, at, runs, loads, clock)
    return Timeline(
        time_zone=pour.time_zone,
        loads=loads,
        slots=slots_by_work(days.works),
        days=days,
        saw_plan=saw_plan(pour.later.cuts, pour.later.test_cuts, pour.saw, loads, at),
        warnings=(*all_notices(pour, views, clock), *contradiction_notices(seen, ZoneInfo(pour.time_zone))),
        mix_words=words,
        pace=pace_of(pour, runs, at, clock),
        version=pour.version,
    )


def _view(run: Run) -> LoadView:
    pour = run.state.pour
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
        placed=run.state.placed,
    )


def _timeline(run: Run, view: LoadView, learned: Learned, clock: Clock) -> LoadTimeline:
    windows: dict[WindowName, Window | None] = {
        name: _window(band, clock) for name, band in view.bands.items()
    }
    return LoadTimeline(
        id=run.load.id,
        windows=windows,
        curve=_curve(run, clock),
        set_factor=run.state.set_factor,
        set_factor_sd=run.state.set_factor_sd,
        saw_practice=_practice(run.state.pour, view, clock),
        learned=learned,
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


def _curve(run: Run, clock: Clock) -> tuple[CurvePoint, ...]:
    """The likely state, every 5 minutes for a day, then every half hour."""
    history, factor, pour = run.likely, run.state.set_factor, run.state.pour
    mix = pour.mix
    initial, final = initial_set_h(mix), final_set_h(mix)
    path = stress_path(history, pour, factor)
    slowness, design = mix.strength_slowness, mix.design_strength_mpa
    shown = run.solved.of(_shown, history, clock.anchor)
    penetrations = penetrations_mpa([history.top_age_h[i] / factor for i, _ in shown], initial, final)
    return tuple(
        CurvePoint(
            at,
            history.surface_c[i],
            history.mean_c[i],
            history.mean_age_h[i],
            penetration,
            strength_mpa(history.mean_age_h[i] / factor / slowness, design),
            _ratio_at(path, history.times_s[i]),
            history.loss[i],
        )
        for (i, at), penetration in zip(shown, penetrations, strict=True)
    )


def _shown(history: History, anchor: datetime) -> tuple[tuple[int, datetime], ...]:
    """The times of a history that its curve shows, by their place in it."""
    clock, born_s = Clock(anchor), history.times_s[0]
    return tuple(
        (i, clock.at(time))
        for i, time in enumerate(history.times_s)
        if time - born_s <= FINE_UNTIL_S or (time - born_s) % _COARSE_CURVE_S == 0
    )


def _ratio_at(path: StressPath, time: float) -> float:
    if not path.times_s or time <= path.times_s[0]:
        return 0.0
    return value_at(path.times_s, path.ratios, time)
