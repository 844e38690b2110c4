"""Equivalent age, set times and the float wait against what is published."""

import math

import pytest

from slabtide.engine.hydration import hydration_degree, ultimate_hydration
from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Mix
from slabtide.engine.setting import (
    FINAL_SET_MPA,
    INITIAL_SET_MPA,
    age_at_penetration_h,
    final_set_h,
    initial_set_h,
    penetration_mpa,
)
from slabtide.engine.surface import ACTIVATION_ENERGY_J_MOL, FOOTPRINT_H, PLACING_H, surface_rate


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize("temp_c", [0, 5, 10, 20, 30, 40])
def test_age_conversion_is_the_model_codes(temp_c: float) -> None:
    """Source: fib Model Code 2010, maturity exp(13.65 - 4000/(273 + T)), that is 33.3 kJ/mol (from memory,
    not verified). Within 1 %."""
    told = math.exp(13.65 - 4000 / (273 + temp_c))
    assert age_rate(temp_c, 33_300) / age_rate(20, 33_300) == pytest.approx(told, rel=0.01)


def test_the_rate_doubles_over_20_fahrenheit_at_45_kj() -> None:
    """Source: NFBA (2020) on ACI 305/306: finishing time halves per 20 °F. ASTM C1074 has 40 to 45 kJ/mol.
    Within 3 %."""
    assert age_rate(celsius(80), 45_000) / age_rate(celsius(60), 45_000) == pytest.approx(2.0, rel=0.03)


@pytest.mark.parametrize(
    ("at_f", "told_h"), [(90, 2 + 2 / 3), (80, 4.0), (70, 6.0), (60, 8.0), (50, 10 + 2 / 3)]
)
def test_the_default_mix_sets_as_the_published_table_has_it(at_f: float, told_h: float) -> None:
    """Source: PCA setting times of concrete at various temperatures (60 to 90 °F as quoted on a secondary
    page; 50 °F from memory, not verified). Within 20 %: set times carry a band of 20 to 25 %. At
    100 °F the table's 1 2/3 h lies well under ours; docs/engine.md says so."""
    mix = Mix()
    assert initial_set_h(mix) / age_rate(celsius(at_f), mix.activation_energy_j_mol) == pytest.approx(
        told_h, rel=0.20
    )


def test_the_two_sets_of_astm_c403_are_passed() -> None:
    """Source: ASTM C403: initial set at 500 psi, final at 4000 psi."""
    initial, final = initial_set_h(Mix()), final_set_h(Mix())
    assert pytest.approx(500 * 0.00689476, rel=0.001) == INITIAL_SET_MPA
    assert pytest.approx(4000 * 0.00689476, rel=0.001) == FINAL_SET_MPA
    assert penetration_mpa(initial, initial, final) == pytest.approx(INITIAL_SET_MPA)
    assert penetration_mpa(final * 0.9999, initial, final) == pytest.approx(FINAL_SET_MPA, rel=0.01)


@pytest.mark.parametrize(
    ("initial_h", "final_h", "psi", "told_h"),
    [
        (4.5, 6.0, 20, 2.88),
        (4.5, 6.0, 150, 3.81),
        (4.5, 6.0, 1000, 4.95),
        (6.0, 8.5, 20, 3.50),
        (6.0, 8.5, 150, 4.90),
    ],
)
def test_penetration_by_the_power_law_of_astm_c403(
    initial_h: float, final_h: float, psi: float, told_h: float
) -> None:
    """Source: ASTM C403 log-log regression, worked by hand. Within 0.01 h."""
    hours = age_at_penetration_h(psi * 0.00689476, initial_h, final_h)
    assert hours == pytest.approx(told_h, abs=0.011)


@pytest.mark.parametrize(("at_f", "told_h"), [(50, 4.25), (70, 2.75), (90, 1.75)])
def test_the_float_wait_is_the_contractors_survey(at_f: float, told_h: float) -> None:
    """Source: ASCC Position Statement 15: waiting time to a power float, counted from strike-off, told to a
    quarter of an hour. Within 10 %."""
    wait_h = FOOTPRINT_H / surface_rate(celsius(at_f)) - PLACING_H
    assert wait_h == pytest.approx(told_h, rel=0.10)


def test_the_survey_is_less_keen_on_temperature_than_set() -> None:
    """Source: least squares of the logarithms of ASCC PS-15's three waits: 28.7 kJ/mol. Within 3 %."""
    at_f, wait_h = [50, 70, 90], [4.25, 2.75, 1.75]
    inverse = [1 / (celsius(f) + 273.15) for f in at_f]
    logs = [math.log(w) for w in wait_h]
    mean_x, mean_y = sum(inverse) / 3, sum(logs) / 3
    slope = sum((x - mean_x) * (y - mean_y) for x, y in zip(inverse, logs, strict=True))
    slope /= sum((x - mean_x) ** 2 for x in inverse)
    assert pytest.approx(slope * 8.314, rel=0.03) == ACTIVATION_ENERGY_J_MOL
    assert Mix().activation_energy_j_mol > ACTIVATION_ENERGY_J_MOL


@pytest.mark.parametrize(("w_cm", "told"), [(0.45, 0.720), (0.50, 0.743), (0.40, 0.694)])
def test_ultimate_hydration_after_mills(w_cm: float, told: float) -> None:
    """Source: Mills (1966), 1.031 w/(0.194 + w), worked by hand (constants from memory, not verified)."""
    assert ultimate_hydration(w_cm) == pytest.approx(told, abs=0.001)


@pytest.mark.parametrize(("age_h", "told"), [(4, 0.061), (6, 0.110), (12, 0.222), (24, 0.344), (72, 0.506)])
def test_hydration_of_a_type_i_cement(age_h: float, told: float) -> None:
    """Source: Schindler and Folliard (2005) with a typical Type I (tau 15.3 h, beta 0.671), worked apart from
    this code (constants from memory, not verified). Within 0.001."""
    assert hydration_degree(age_h, Mix(tau_h=15.3, beta=0.671)) == pytest.approx(told, abs=0.0011)
