"""Saturation pressure and dew point against ASHRAE's formulas and the industrial steam tables."""

import psychrolib
import pytest

from slabtide.engine.humidity import dew_point_c, saturation_vapour_pressure_kpa

psychrolib.SetUnitSystem(psychrolib.SI)


@pytest.mark.parametrize("air_temp_c", [0, 5, 10, 20, 30, 40, 50])
def test_saturation_pressure_is_ashraes_to_0_3_percent(air_temp_c: float) -> None:
    """Source: ASHRAE Handbook of Fundamentals (2017), ch. 1, by PsychroLib."""
    told = psychrolib.GetSatVapPres(air_temp_c) / 1000
    assert saturation_vapour_pressure_kpa(air_temp_c) == pytest.approx(told, rel=0.003)


@pytest.mark.parametrize(
    ("air_temp_c", "told"),
    [(5, 0.87257), (10, 1.22818), (20, 2.33921), (30, 4.24669), (40, 7.38443), (50, 12.3513)],
)
def test_saturation_pressure_is_the_steam_tables_to_0_3_percent(air_temp_c: float, told: float) -> None:
    """Source: IAPWS-IF97, region 4."""
    assert saturation_vapour_pressure_kpa(air_temp_c) == pytest.approx(told, rel=0.003)


@pytest.mark.parametrize("air_temp_c", [2, 10, 20, 25, 30, 35, 40])
@pytest.mark.parametrize("rh", [0.2, 0.4, 0.6, 0.7, 0.9, 1.0])
def test_dew_point_is_ashraes_to_a_twentieth_of_a_degree(air_temp_c: float, rh: float) -> None:
    """Source: ASHRAE, by PsychroLib; below 0 °C it counts over ice, so those are left out."""
    told = psychrolib.GetTDewPointFromRelHum(air_temp_c, rh)
    if told > 0:
        assert dew_point_c(air_temp_c, rh) == pytest.approx(told, abs=0.05)


@pytest.mark.parametrize("rh", [0.05, 0.3, 0.8, 1.0])
def test_the_dew_point_is_never_above_the_air(rh: float) -> None:
    assert dew_point_c(24.0, rh) <= 24.0 + 1e-9


@pytest.mark.parametrize("air_temp_c", [1, 8, 15, 22, 29, 36, 43])
@pytest.mark.parametrize("rh", [0.15, 0.35, 0.55, 0.75, 0.95])
def test_vapour_pressure_and_back_are_ashraes(air_temp_c: float, rh: float) -> None:
    """Source: ASHRAE, by PsychroLib: vapour pressure and the humidity of the dew point within 0.3 %."""
    told = psychrolib.GetVapPresFromRelHum(air_temp_c, rh) / 1000
    assert rh * saturation_vapour_pressure_kpa(air_temp_c) == pytest.approx(told, rel=0.003)
    dew = dew_point_c(air_temp_c, rh)
    if dew > 0:
        assert psychrolib.GetRelHumFromTDewPoint(air_temp_c, dew) == pytest.approx(rh, rel=0.003)
