"""Drying: more water is never dry sooner, dew and rain wet, and a wet surface stands over its wet bulb."""

import math

import psychrolib
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from scipy.integrate import solve_ivp

from slabtide.engine.drying import (
    DRY_KG_M2,
    FULL_KG_M2,
    PORES_KG_M2,
    Air,
    Wetting,
    loss_kg_m2_h,
    moisture,
    water_after,
)
from slabtide.engine.humidity import saturation_vapour_pressure_kpa

psychrolib.SetUnitSystem(psychrolib.SI)
HOURS = 3600.0


def air(temp_c: float, rh: float, wind_kmh: float = 8.0, rain_mm: float = 0.0, over_c: float = 0.0) -> Air:
    return Air(temp_c + over_c, rh * saturation_vapour_pressure_kpa(temp_c), wind_kmh, rain_mm)


airs = st.builds(
    air,
    st.floats(2, 35),
    st.floats(0.2, 1.0),
    st.floats(0, 40),
    st.sampled_from([0.0, 0.0, 0.0, 1.5]),
    st.floats(-4, 20),
)


@settings(max_examples=150, deadline=None)
@given(water=st.floats(0, FULL_KG_M2), more=st.floats(0, 0.5), sky=airs, pace=st.floats(0.6, 1.4))
def test_a_wetter_surface_is_never_drier_after(water: float, more: float, sky: Air, pace: float) -> None:
    drier = water_after(water, sky, 600.0, pace)
    assert water_after(min(FULL_KG_M2, water + more), sky, 600.0, pace) >= drier - 1e-12
    assert 0.0 <= drier <= FULL_KG_M2


@settings(max_examples=60, deadline=None)
@given(day=st.lists(airs, min_size=6, max_size=30), hour=st.integers(0, 5))
def test_a_wash_more_never_dries_it_sooner(day: list[Air], hour: int) -> None:
    plain = moisture(day, 0.0, [])
    washed = moisture(day, 0.0, [Wetting(hour * HOURS, "wash")])
    assert all(a >= b - 1e-12 for a, b in zip(washed.water_kg_m2, plain.water_kg_m2, strict=True))
    assert washed.dry_at_s[-1] >= plain.dry_at_s[-1]


@settings(max_examples=60, deadline=None)
@given(day=st.lists(airs, min_size=6, max_size=30))
def test_less_evaporation_never_dries_it_sooner(day: list[Air]) -> None:
    quick, slow = moisture(day, 0.0, [], 1.4), moisture(day, 0.0, [], 0.6)
    assert slow.dry_at_s[0] >= quick.dry_at_s[0]


def test_a_slab_in_mild_weather_dries_in_about_a_day() -> None:
    """Common practice, no source: a day after washing. Night and day alternate, 12 and 20 °C."""
    day = [
        air(20.0, 0.55, over_c=8.0) if 8 <= hour % 24 < 18 else air(12.0, 0.85) for hour in range(14, 14 + 72)
    ]
    dried = moisture(day, 0.0, [Wetting(0.0, "wash")]).dry_at_s[0] / HOURS
    assert 16 < dried < 30


def test_dew_wets_a_dry_surface_and_the_morning_dries_it() -> None:
    night, morning = air(14.0, 0.99, over_c=-1.0), air(20.0, 0.5, over_c=10.0)
    told = moisture([night] * 10 + [morning] * 8, 0.0, [Wetting(0.0, "sheet", dry=True)])
    assert told.water_kg_m2[10] > DRY_KG_M2
    assert told.cause[10] == "dew"
    assert told.dry_at_s[10] <= 14 * HOURS


@pytest.mark.parametrize(
    ("temp_c", "rh", "over_c"), [(20, 0.5, 0), (30, 0.3, 8), (10, 0.7, 4), (25, 0.8, 12)]
)
def test_drying_is_that_of_a_stiff_solver_on_ashraes_vapour_pressures(
    temp_c: float, rh: float, over_c: float
) -> None:
    """Source: vapour pressure by PsychroLib (ASHRAE 2017), Menzel's coefficients, scipy's LSODA; wet surface
    by root of its own heat balance. Within 2 %, or the ten minutes of a step."""
    wind_kmh = 8.0
    per_kpa = 0.44 * 4.882428 / 6.894757 * (0.253 + 0.096 / 1.609344 * wind_kmh)
    vapour = psychrolib.GetVapPresFromRelHum(temp_c, rh) / 1000
    dry_c = temp_c + over_c
    held = 5.7 + 3.8 * wind_kmh / 3.6 + 5.5 + 12.0

    def loss(wetness: float) -> float:
        low, high = dry_c - 40.0, dry_c
        for _ in range(60):
            mid = (low + high) / 2
            gone = per_kpa * max(0.0, psychrolib.GetSatVapPres(mid) / 1000 - vapour)
            low, high = (low, mid) if held * (dry_c - mid) < 2.45e6 / 3600 * wetness * gone else (mid, high)
        return per_kpa * max(0.0, psychrolib.GetSatVapPres(low) / 1000 - vapour)

    def rate(_: float, water: list[float]) -> list[float]:
        wetness = min(1.0, water[0] / PORES_KG_M2)
        return [-loss(wetness) * wetness]

    def dry(_: float, water: list[float]) -> float:
        return water[0] - DRY_KG_M2

    dry.terminal = True  # type: ignore[attr-defined]
    told = solve_ivp(rate, (0, 400), [FULL_KG_M2], events=dry, method="LSODA", rtol=1e-7, max_step=0.5)
    ours = moisture([air(temp_c, rh, wind_kmh, 0.0, over_c)] * 400, 0.0, []).dry_at_s[0] / HOURS
    assert ours == pytest.approx(told.t[-1], rel=0.02, abs=1 / 6)


@pytest.mark.parametrize("rh", [0.2, 0.5, 0.8])
@pytest.mark.parametrize("temp_c", [8.0, 20.0, 32.0])
def test_a_wet_surface_gives_up_less_than_one_held_at_the_airs_temperature(temp_c: float, rh: float) -> None:
    """And never as little as at the wet bulb (PsychroLib): the slab and the sky hold it over that."""
    whole = loss_kg_m2_h(air(temp_c, rh), 0.0)
    wet = loss_kg_m2_h(air(temp_c, rh), 1.0)
    bulb = psychrolib.GetTWetBulbFromRelHum(temp_c, rh, 101325)
    at_bulb = whole * (psychrolib.GetSatVapPres(bulb) - psychrolib.GetVapPresFromRelHum(temp_c, rh))
    at_bulb /= psychrolib.GetSatVapPres(temp_c) - psychrolib.GetVapPresFromRelHum(temp_c, rh)
    assert at_bulb < wet < whole


def test_a_cover_holds_the_water_and_a_wet_one_fills_it() -> None:
    dry_cover = Air(30.0, 1.0, 20.0, 0.0, "dry")
    assert water_after(0.7, dry_cover, HOURS) == 0.7
    assert water_after(0.1, Air(30.0, 1.0, 20.0, 0.0, "wet"), HOURS) == FULL_KG_M2
    assert math.isinf(moisture([dry_cover] * 5, 0.0, []).dry_at_s[0])
