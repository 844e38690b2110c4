"""Which way things go, whatever the pour: more wind, drier air, thicker slab, another unit, a later hour."""

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import Phase, given, settings
from hypothesis import strategies as st

from slabtide.engine import Pour, forecast
from slabtide.engine.bleeding import Film
from slabtide.engine.contract import read_pour, write_timeline
from slabtide.engine.covers import CoverSpan
from slabtide.engine.evaporation import evaporation_kg_m2_h
from slabtide.engine.exchange import bare_exchange, covered_exchange
from slabtide.engine.forcing import Forcing
from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Mix
from slabtide.engine.saw import ravelling_limit_mpa
from slabtide.engine.strength import strength_mpa, tensile_strength_mpa
from slabtide.engine.stress import Restraint, curl_coefficient, drag_limit_mpa, stress_ratios
from slabtide.engine.timeline import LoadTimeline

MakePour = Callable[..., Pour]
quick = settings(deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
few = settings(quick, max_examples=10)
mild: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {
        "air_c": st.floats(5, 36),
        "swing_c": st.floats(0, 9),
        "rh": st.floats(0.1, 0.95),
        "wind_kmh": st.floats(0, 40),
        "sun_w_m2": st.floats(0, 1000),
        "concrete_c": st.floats(10, 35),
        "insulation": st.floats(0, 4),
    }
)
temps, rates = st.floats(-10, 60), st.floats(0, 80)


def first(pour: Pour) -> LoadTimeline:
    return forecast(pour, pour.loads[0].batched_at).loads[0]


@given(surface_c=temps, air_c=st.floats(-10, 45), rh=st.floats(0, 1), wind=rates, more=st.floats(0.1, 30))
def test_wind_and_dry_air_and_warm_concrete_never_dry_less(
    surface_c: float, air_c: float, rh: float, wind: float, more: float
) -> None:
    loss = evaporation_kg_m2_h(surface_c, air_c, rh, wind)
    assert evaporation_kg_m2_h(surface_c, air_c, rh, wind + more) >= loss
    assert evaporation_kg_m2_h(surface_c, air_c, rh / 2, wind) >= loss
    assert evaporation_kg_m2_h(surface_c + more, air_c, rh, wind) >= loss


@given(temp_c=st.floats(-20, 80), more=st.floats(0.01, 30), energy=st.floats(20_000, 80_000))
def test_warmer_never_ages_slower(temp_c: float, more: float, energy: float) -> None:
    assert age_rate(temp_c + more, energy) >= age_rate(temp_c, energy)


forcings = st.builds(
    Forcing, st.floats(100, 1400), st.floats(5, 60), st.floats(-30, 50), st.floats(0, 6), st.floats(0, 100)
)


@given(forcing=forcings, surface_c=temps, warmer=st.floats(0.1, 20), wetness=st.floats(0, 1))
def test_a_warmer_surface_takes_in_less(
    forcing: Forcing, surface_c: float, warmer: float, wetness: float
) -> None:
    cool, warm = (bare_exchange(forcing, t, wetness) for t in (surface_c, surface_c + warmer))
    assert warm.flux < cool.flux
    assert cool.slope > 0


@given(forcing=forcings, surface_c=temps, r=st.floats(0.01, 3))
def test_a_cover_never_makes_the_surface_answer_harder(forcing: Forcing, surface_c: float, r: float) -> None:
    """Its exchange falls less steeply with its temperature than that of a dry bare one some kelvin around."""
    told = covered_exchange(forcing, surface_c, CoverSpan(0, 1, "blanket", r))
    assert 0 < told.slope <= 1 / r


@given(age_h=st.floats(0, 2000), later=st.floats(0.1, 100), design=st.floats(10, 80))
def test_strength_never_falls(age_h: float, later: float, design: float) -> None:
    young, old = strength_mpa(age_h, design), strength_mpa(age_h + later, design)
    assert old >= young >= 0
    assert tensile_strength_mpa(old) >= tensile_strength_mpa(young)


@given(length=st.floats(0.5, 100), more=st.floats(0.1, 20), friction=st.floats(0.1, 5))
def test_longer_and_rougher_hold_harder(length: float, more: float, friction: float) -> None:
    assert drag_limit_mpa(length + more, friction) > drag_limit_mpa(length, friction)
    assert drag_limit_mpa(length, friction + more) > drag_limit_mpa(length, friction)
    assert -0.2 <= curl_coefficient(length) <= 1.1


@given(
    falls=st.lists(st.floats(0, 2), min_size=3, max_size=40),
    design=st.floats(15, 60),
    bonded=st.floats(0, 0.9),
    more=st.floats(0.01, 0.1),
)
def test_a_slab_that_only_cools_is_tighter_the_harder_it_is_held(
    falls: list[float], design: float, bonded: float, more: float
) -> None:
    temps_c = [40.0]
    for fall in falls:
        temps_c.append(temps_c[-1] - fall)
    times = [1800 * i for i in range(len(temps_c))]
    ages = [8 + i / 2 for i in range(len(temps_c))]
    level = [0.0] * len(temps_c)

    def ratios(share: float, cornered: bool) -> list[float]:
        held = Restraint(0.12, 4.0, neighbours=share, cornered=cornered)
        return stress_ratios(times, ages, temps_c, temps_c, level, design, held)

    plain, tighter, corner = ratios(bonded, False), ratios(bonded + more, False), ratios(bonded, True)
    assert all(b >= a - 1e-12 for a, b in zip(plain, tighter, strict=True))
    assert all(b >= a - 1e-12 for a, b in zip(plain, corner, strict=True))


def test_harder_aggregate_waits_longer_and_early_entry_less() -> None:
    kinds = ("soft-rounded", "rounded", "crushed-soft", "crushed-hard")
    limits = [ravelling_limit_mpa(kind, "conventional") for kind in kinds]
    assert limits == sorted(limits)
    assert all(
        ravelling_limit_mpa(kind, "early-entry") < limit for kind, limit in zip(kinds, limits, strict=True)
    )


@few
@given(scene=mild, more=st.floats(0.02, 0.15))
def test_a_thicker_slab_swings_less_through_the_day(
    make_pour: MakePour, scene: dict[str, Any], more: float
) -> None:
    """The mean of the fourth day, less the straight line through its ends: it may still cool."""

    def swing(thickness_m: float) -> float:
        curve = first(make_pour(**scene, mix=Mix(cement_kg_m3=150), thickness_m=thickness_m)).curve
        hours = [(point.at - curve[0].at) / timedelta(hours=1) for point in curve]
        day = [point.mean_temp_c for point, hour in zip(curve, hours, strict=True) if 72 <= hour <= 96]
        level = [temp - day[0] - (day[-1] - day[0]) * i / (len(day) - 1) for i, temp in enumerate(day)]
        return max(level) - min(level)

    assert swing(0.10 + more) <= swing(0.10) + 0.3


@given(
    losses=st.lists(st.floats(0, 3), min_size=60, max_size=60),
    more=st.floats(0.01, 1),
    share=st.floats(0.05, 2),
)
def test_the_faster_it_dries_the_sooner_the_sheen_is_gone(
    losses: list[float], more: float, share: float
) -> None:
    def gone_s(extra: float) -> float:
        film = Film(0.7, share)
        for i, loss in enumerate(losses):
            film.pass_time(300 * (i + 1), 300, loss + extra)
        return math.inf if film.dry_at_s is None else film.dry_at_s

    assert gone_s(more) <= gone_s(0.0) + 300  # within one step


@few
@given(scene=mild, less=st.floats(0.1, 1.0))
def test_shade_never_makes_a_slab_older(make_pour: MakePour, scene: dict[str, Any], less: float) -> None:
    sunny = make_pour(**scene)
    shaded = replace(sunny, slab=replace(sunny.slab, shade=less))
    pairs = zip(first(sunny).curve, first(shaded).curve, strict=True)
    assert all(dark.equivalent_age_h <= bright.equivalent_age_h + 1e-6 for bright, dark in pairs)


def test_units_at_the_edge_change_nothing(sample: dict[str, Any]) -> None:
    """The sample told in US units and turned to SI anew: the same windows to two seconds."""
    feet, psi, mile = 0.3048, 0.00689476, 1.609344

    def through_us(value: float, unit: float) -> float:
        return round(value / unit, 9) * unit

    told = read_pour(sample)
    sample["slab"]["thickness_m"] = through_us(sample["slab"]["thickness_m"], feet / 12)
    sample["slab"]["area_m2"] = through_us(sample["slab"]["area_m2"], feet * feet)
    if "design_strength_mpa" in sample["mix"]:
        sample["mix"]["design_strength_mpa"] = through_us(sample["mix"]["design_strength_mpa"], psi)
    for hour in sample["weather"]["hourly"]:
        hour["air_temp_c"] = (round(hour["air_temp_c"] * 1.8 + 32, 9) - 32) / 1.8
        hour["wind_kmh"] = through_us(hour["wind_kmh"], mile)
    again = read_pour(sample)
    for ours, theirs in zip(first_windows(told), first_windows(again), strict=True):
        assert abs(ours - theirs) <= timedelta(seconds=2)


def first_windows(pour: Pour) -> list[Any]:
    windows = first(pour).windows.values()
    return [w.opens.likely for w in windows if w] + [w.closes.likely for w in windows if w and w.closes]


@pytest.mark.parametrize("split", [2, 3])
def test_a_slab_poured_as_two_loads_at_once_is_one_slab(make_pour: MakePour, split: int) -> None:
    pour = make_pour()
    parts = tuple(
        replace(pour.loads[0], id=str(i), area_m2=pour.loads[0].area_m2 / split) for i in range(split)
    )
    whole: Any = write_timeline(forecast(pour, pour.loads[0].batched_at))["loads"]
    loads: Any = write_timeline(forecast(replace(pour, loads=parts), pour.loads[0].batched_at))["loads"]
    assert [load["windows"] for load in loads] == [whole[0]["windows"]] * split
