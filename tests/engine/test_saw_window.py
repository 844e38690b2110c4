"""The saw: bands that hold what they say, practice drawn beside, restraint that counts."""

import math
import random
from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from statistics import NormalDist
from typing import Any

import pytest
from tests.engine.born import born

from slabtide.engine import Pour, forecast
from slabtide.engine.clocks import time_at
from slabtide.engine.column import slab_column
from slabtide.engine.cracking import cracks_at
from slabtide.engine.forcing import hourly_forcing
from slabtide.engine.history import follow
from slabtide.engine.pour import Cover, Mix, Saw, Slab
from slabtide.engine.saw import (
    STRESS_SHARE,
    STRESS_SHARE_SD,
    latest_cut_h,
    ravelling_limit_mpa,
)
from slabtide.engine.saw_practice import practice_span
from slabtide.engine.strength import age_at_strength_h
from slabtide.engine.timeline import LoadTimeline, Timeline

MakePour = Callable[..., Pour]
H = 3600.0


def seen(pour: Pour) -> Timeline:
    return forecast(pour, pour.loads[0].batched_at)


def saw_times(load: LoadTimeline) -> tuple[datetime, datetime]:
    window = load.windows["saw"]
    assert window is not None
    assert window.closes is not None
    return window.opens.likely, window.closes.likely


def strata(draw: random.Random, count: int) -> list[float]:
    """Standard normal deviates, one from each of so many equally likely strata, shuffled."""
    values = [NormalDist().inv_cdf((k + draw.uniform(0.001, 0.999)) / count) for k in range(count)]
    draw.shuffle(values)
    return values


def drawn(pour: Pour, count: int) -> list[tuple[datetime, datetime]]:
    """When a saw really may start and must be done, heat solved anew for each draw of mix and weather."""
    draw = random.Random(11)
    load, mix, anchor = pour.loads[0], pour.mix, pour.weather.hourly[0].at
    birth = born(pour)
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    clean_h = age_at_strength_h(ravelling_limit_mpa(mix.aggregate, "conventional"), mix.design_strength_mpa)
    latest_h = latest_cut_h("conventional", clean_h)
    times = []
    for set_z, sky_z, firm_z, crack_z in zip(*(strata(draw, count) for _ in range(4)), strict=True):
        factor = math.exp(mix.set_factor_sd * set_z)
        hours = hourly_forcing(pour.weather.hourly, pour.slab.solar_absorptivity, load.batched_at, sky_z)
        h = follow(birth, replace(mix, set_factor=factor), column, hours)
        opens_s = time_at(h.times_s, h.mean_age_h, clean_h * factor * math.exp(0.08 * firm_z))
        share = STRESS_SHARE * math.exp(STRESS_SHARE_SD * crack_z)
        cracks_s = cracks_at(h, pour, factor, [share])[0]
        closes_s = min(cracks_s, time_at(h.times_s, h.mean_age_h, latest_h * factor))
        times.append((anchor + timedelta(seconds=opens_s), anchor + timedelta(seconds=closes_s)))
    return times


@pytest.mark.parametrize("scene", [{}, {"air_c": 29.0, "concrete_c": 30.0}, {"air_c": 10.0, "swing_c": 7.0}])
def test_an_eighty_percent_band_of_the_saw_holds_about_eighty(
    make_pour: MakePour, scene: dict[str, Any]
) -> None:
    """Within 5 points. Of 300 draws at random the share's standard error would be sqrt(0.8 * 0.2 / 300), 2.3
    points; drawn in strata of each error it is less."""
    pour = make_pour(hours=80, **scene)
    window = seen(pour).loads[0].windows["saw"]
    assert window is not None
    assert window.closes is not None
    truths = drawn(pour, 300)
    opened = sum(window.opens.early <= opens <= window.opens.late for opens, _ in truths) / len(truths)
    closed = sum(window.closes.early <= closes <= window.closes.late for _, closes in truths) / len(truths)
    assert opened == pytest.approx(0.80, abs=0.05)
    assert closed == pytest.approx(0.80, abs=0.05)


def test_a_clear_cool_day_leaves_the_saw_a_window_and_says_when_the_surface_drops(
    make_pour: MakePour,
) -> None:
    """The surface's 15 °F drop is practice drawn beside the window, not its close."""
    timeline = seen(make_pour(air_c=12.0, swing_c=9.0, sun_w_m2=800.0, concrete_c=18.0, insulation=0.0))
    load = timeline.loads[0]
    opens, closes = saw_times(load)
    drop = load.saw_practice.surface_drop
    assert drop is not None
    assert drop < closes
    assert load.saw_practice.closes <= max(drop, load.saw_practice.opens)
    assert opens < closes
    told = [notice for notice in timeline.warnings if notice.code == "first_night_drop"]
    assert [notice.starts for notice in told] == [drop]


def test_where_the_surface_drops_before_a_saw_can_cut_that_is_said(make_pour: MakePour) -> None:
    timeline = seen(
        make_pour(air_c=8.0, swing_c=9.0, sun_w_m2=900.0, concrete_c=16.0, mix=Mix(set_factor=1.4))
    )
    opens, _ = saw_times(timeline.loads[0])
    drop = timeline.loads[0].saw_practice.surface_drop
    assert drop is not None
    assert drop < opens
    texts = [notice.text for notice in timeline.warnings if notice.code == "first_night_drop"]
    assert "early-entry" in texts[0]


@pytest.mark.parametrize("kind", ["conventional", "early-entry"])
@pytest.mark.parametrize("air_temp_c", [-5.0, 4.4, 12.0, 20.0, 28.0, 38.0])
def test_practice_is_never_inverted_and_never_later_in_warmer_air(kind: Any, air_temp_c: float) -> None:
    cool = practice_span(kind, 0.0, 4 * H, air_temp_c, math.inf)
    warm = practice_span(kind, 0.0, 4 * H, air_temp_c + 3.0, math.inf)
    assert cool.opens_s < cool.closes_s
    assert warm.opens_s <= cool.opens_s
    assert warm.closes_s <= cool.closes_s


def test_early_entry_opens_sooner_and_after_less_strength(make_pour: MakePour) -> None:
    early = saw_times(seen(make_pour(saw=Saw("early-entry", 20.0, 1.0))).loads[0])
    plain = saw_times(seen(make_pour(saw=Saw("conventional", 20.0, 1.0))).loads[0])
    assert early[0] < plain[0] - timedelta(hours=1)


@pytest.mark.parametrize(
    "change",
    [{"neighbours": 1.0}, {"reentrant_corners": 2}, {"base_friction": 4.0}, {"uncut_length_m": 30.0}],
)
def test_what_holds_the_slab_harder_never_closes_the_saw_later(
    make_pour: MakePour, change: dict[str, Any]
) -> None:
    pour = make_pour(air_c=24.0, swing_c=8.0, sun_w_m2=800.0)
    free = replace(pour, slab=replace(pour.slab, uncut_length_m=3.0))
    held = replace(free, slab=replace(free.slab, **change))
    assert saw_times(seen(held).loads[0])[1] <= saw_times(seen(free).loads[0])[1] + timedelta(minutes=5)


def worst_stress(load: LoadTimeline, until: datetime) -> float:
    return max(point.stress_ratio for point in load.curve if point.at < until)


@pytest.mark.parametrize("change", [{"neighbours": 0.8}, {"reentrant_corners": 1}])
def test_a_neighbour_or_a_corner_raises_the_tension_of_a_cooling_day(
    make_pour: MakePour, change: dict[str, Any]
) -> None:
    pour = make_pour(air_c=18.0, swing_c=9.0, concrete_c=28.0, sun_w_m2=300.0)
    held = replace(pour, slab=replace(pour.slab, **change))
    until = pour.loads[0].placed_from + timedelta(hours=24)
    plain = worst_stress(seen(pour).loads[0], until)
    assert worst_stress(seen(held).loads[0], until) > 1.05 * plain


def test_blankets_before_the_first_night_hold_the_crack_off(make_pour: MakePour) -> None:
    pour = make_pour(air_c=15.0, swing_c=10.0, sun_w_m2=700.0, concrete_c=22.0)
    begins = pour.loads[0].placed_from + timedelta(hours=7)
    cover = Cover(begins, begins + timedelta(hours=20), "blanket", 0.6)
    bare, kept = seen(pour).loads[0], seen(replace(pour, covers=(cover,))).loads[0]

    until = begins + timedelta(hours=18)
    assert worst_stress(kept, until) < 0.8 * worst_stress(bare, until)


def test_a_slab_is_as_it_was_when_nobody_tells_of_restraint() -> None:
    plain = Slab(20, 0.1, 0, 15, 0.7, 4)
    assert (plain.shade, plain.neighbours, plain.reentrant_corners, plain.base_friction) == (0, 0, 0, 1.5)
