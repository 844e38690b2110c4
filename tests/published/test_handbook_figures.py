"""Worked figures for set, strength, cracking and curling, and what handbooks tell of mixes and saws."""

import math

import pytest

from slabtide.engine.hydration import age_at_degree_h
from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Admixture, Mix
from slabtide.engine.recipe import resolved, set_ratio
from slabtide.engine.saw_practice import practice_span
from slabtide.engine.setting import final_set_h, initial_set_h
from slabtide.engine.strength import (
    PSI_MPA,
    age_at_strength_h,
    stiffness_mpa,
    strength_mpa,
    tensile_strength_mpa,
)
from slabtide.engine.stress import EXPANSION_PER_K, curl_coefficient, stiffness_radius_m

INCH, FOOT, H = 0.0254, 0.3048, 3600.0


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32) / 1.8


@pytest.mark.parametrize(
    ("temp_c", "e33_5", "e40", "e45", "e40_from_23"),
    [
        (0, 0.366, 0.301, 0.259, 0.255),
        (5, 0.477, 0.413, 0.369, 0.349),
        (10, 0.615, 0.560, 0.521, 0.474),
        (30, 1.574, 1.718, 1.839, 1.455),
        (40, 2.406, 2.852, 3.252, 2.416),
    ],
)
def test_age_conversion_factors(
    temp_c: float, e33_5: float, e40: float, e45: float, e40_from_23: float
) -> None:
    """Source: ASTM C1074, Arrhenius, reference 20 °C and 23 °C, worked apart from this code. Within 0.001."""
    for energy, told in ((33_500, e33_5), (40_000, e40), (45_000, e45)):
        assert age_rate(temp_c, energy) / age_rate(20, energy) == pytest.approx(told, abs=0.0011)
    assert age_rate(temp_c, 40_000) == pytest.approx(e40_from_23, abs=0.0011)


@pytest.mark.parametrize(
    ("name", "tau_h", "beta", "initial_h", "final_h"),
    [
        ("I", 15.3, 0.671, 4.06, 6.28),
        ("II", 19.8, 0.560, 4.03, 6.81),
        ("III", 9.85, 0.595, 2.20, 3.61),
        ("V", 25.4, 0.477, 3.93, 7.27),
    ],
)
def test_sets_of_four_cements_by_their_oxides(
    name: str, tau_h: float, beta: float, initial_h: float, final_h: float
) -> None:
    """Source: Schindler and Folliard (2005) and Schindler (2004) with typical oxides, w/cm 0.45, at their
    reference temperature (constants from memory, not verified). The earlier share for initial set, 0.14.
    Within 2 %, the parameters being rounded."""
    mix = Mix(tau_h=tau_h, beta=beta)
    assert age_at_degree_h(0.14 * 0.45, mix) == pytest.approx(initial_h, rel=0.02)
    assert final_set_h(mix) == pytest.approx(final_h, rel=0.02)


@pytest.mark.parametrize(
    ("w_cm", "initial_h", "final_h"), [(0.40, 3.87, 5.89), (0.50, 4.25, 6.69), (0.55, 4.45, 7.11)]
)
def test_sets_at_other_water_contents(w_cm: float, initial_h: float, final_h: float) -> None:
    """Source: as above, Type I. Within 2 %."""
    mix = Mix(tau_h=15.3, beta=0.671, w_cm=w_cm)
    assert age_at_degree_h(0.14 * w_cm, mix) == pytest.approx(initial_h, rel=0.02)
    assert final_set_h(mix) == pytest.approx(final_h, rel=0.02)


@pytest.mark.parametrize(
    ("at_f", "initial_h", "final_h"),
    [(50, 8.55, 13.2), (60, 5.83, 9.02), (70, 4.06, 6.28), (80, 2.85, 4.41), (90, 2.04, 3.15)],
)
def test_sets_of_type_i_over_temperature(at_f: float, initial_h: float, final_h: float) -> None:
    """Source: as above with its activation energy, 46.4 kJ/mol, from 70 °F. Within 2 %."""
    mix = Mix(tau_h=15.3, beta=0.671)
    rate = age_rate(celsius(at_f), 46_448) / age_rate(celsius(70), 46_448)
    assert age_at_degree_h(0.14 * 0.45, mix) / rate == pytest.approx(initial_h, rel=0.02)
    assert final_set_h(mix) / rate == pytest.approx(final_h, rel=0.02)


@pytest.mark.parametrize(
    ("te_h", "psi"),
    [(6, 223), (8, 379), (10, 540), (12, 696), (16, 983), (24, 1458), (72, 2872), (168, 3811), (672, 4822)],
)
def test_strength_over_equivalent_age(te_h: float, psi: float) -> None:
    """Source: the curve fitted to ACI 209R-92 Type III for a 4,000 psi mix, worked apart from this code;
    below a day an extrapolation. Within 1 %."""
    assert strength_mpa(te_h, 4000 * PSI_MPA) / PSI_MPA == pytest.approx(psi, rel=0.01)


@pytest.mark.parametrize(("psi", "te_h"), [(200, 5.7), (500, 9.5), (1000, 16.2), (2000, 36.6)])
def test_age_to_strength(psi: float, te_h: float) -> None:
    """Source: as above. Within 1 %."""
    assert age_at_strength_h(psi * PSI_MPA, 4000 * PSI_MPA) == pytest.approx(te_h, rel=0.01)


@pytest.mark.parametrize(
    ("psi", "drops_f"),
    [
        (200, (14.4, 10.8, 8.7)),
        (300, (16.2, 12.2, 9.7)),
        (500, (18.8, 14.1, 11.3)),
        (1000, (23.0, 17.3, 13.8)),
    ],
)
def test_the_drop_that_cracks_young_concrete(psi: float, drops_f: tuple[float, float, float]) -> None:
    """Source: Oluokun's tension over 57000 sqrt(fc) and 5.5e-6 per °F, at restraint times relaxation of 0.6,
    0.8 and 1, worked by hand (constants from memory, not verified). Within 1.5 %. The stronger the concrete
    the more it takes, which a square root on both would hide."""
    tension, stiffness = tensile_strength_mpa(psi * PSI_MPA), stiffness_mpa(psi * PSI_MPA)
    for held, told_f in zip((0.6, 0.8, 1.0), drops_f, strict=True):
        drop_k = tension / (stiffness * EXPANSION_PER_K * held)
        assert drop_k * 1.8 == pytest.approx(told_f, rel=0.015)


@pytest.mark.parametrize(
    ("stiffness_psi", "feet", "told_psi"), [(1e6, 10, 29.9), (3e6, 8, 64), (3e6, 10, 82), (3e6, 12, 89)]
)
def test_curling_stress_at_an_edge(stiffness_psi: float, feet: float, told_psi: float) -> None:
    """Source: Westergaard and Bradbury, C E a dT / 2, 4 in slab, 150 pci, 10 °F, by hand. Within 2 %."""
    stiffness = stiffness_psi * PSI_MPA
    radius = stiffness_radius_m(stiffness, 4 * INCH)
    stress = curl_coefficient(feet * FOOT / radius) * stiffness * EXPANSION_PER_K * (10 / 1.8) / 2
    assert stress / PSI_MPA == pytest.approx(told_psi, rel=0.02)


@pytest.mark.parametrize(
    ("kind", "ash_class", "told_initial", "told_final"), [("ash", "C", 280, 375), ("ash", "F", 290, 405)]
)
def test_a_quarter_of_ash_delays_set_as_was_measured(
    kind: str, ash_class: str, told_initial: float, told_final: float
) -> None:
    """Source: Gebler and Klieger, PCA RD089 (1986): 4:15 and 5:30 h without, 4:40 and 6:15 with Class C, 4:50
    and 6:45 with Class F (from memory, not verified). Our one ratio lies between both sets'."""
    ratio = set_ratio(Mix(fly_ash_fraction=0.25, fly_ash_class=ash_class))  # type: ignore[arg-type]
    assert told_initial / 255 <= ratio <= told_final / 330


@pytest.mark.parametrize("kind", ["A", "B", "C", "D", "E", "F", "G", "S"])
def test_an_admixture_at_its_usual_dose_stays_inside_its_class(kind: str) -> None:
    """Source: ASTM C494 Table 1, initial set against the control (from memory, not verified): A, F, S an hour
    sooner to an hour and a half later; B, D, G 1 to 3 1/2 h later; C, E 1 to 3 1/2 h sooner."""
    low, high = {"B": (1, 3.5), "D": (1, 3.5), "G": (1, 3.5), "C": (-3.5, -1), "E": (-3.5, -1)}.get(
        kind, (-1, 1.5)
    )
    treated = resolved(Mix(admixtures=(Admixture(kind),)))  # type: ignore[arg-type]
    assert low <= initial_set_h(treated) - initial_set_h(Mix()) <= high


def test_slag_delays_ten_to_twenty_minutes_a_tenth() -> None:
    """Source: common practice at 73 °F (from memory, not verified)."""
    for tenths in (1, 2, 3, 4, 5):
        later = initial_set_h(resolved(Mix(slag_fraction=tenths / 10))) - initial_set_h(Mix())
        assert 10 * tenths <= later * 60 <= 20 * tenths


@pytest.mark.parametrize(
    ("kind", "air_f", "opens_h"),
    [("conventional", 95, 4), ("conventional", 40, 12), ("early-entry", 95, 1), ("early-entry", 40, 4)],
)
def test_practice_opens_as_the_handbook_has_it(kind: str, air_f: float, opens_h: float) -> None:
    """Source: ACI 302.1R-15 and 224.4R-13: after finishing, 4 h in hot weather to 12 h in cold; early-entry 1
    to 4 h."""
    span = practice_span(kind, 0.0, 3 * H, celsius(air_f), math.inf)  # type: ignore[arg-type]
    assert (span.opens_s - 3 * H) / H == pytest.approx(opens_h, abs=0.05)


@pytest.mark.parametrize(("air_f", "closes_h"), [(70, 18), (39, 72)])
def test_practice_closes_at_18_hours_and_at_three_days_in_cold(air_f: float, closes_h: float) -> None:
    """Source: CSA A23.1 and PCA, 6 to 18 h; Concrete Construction, up to three days in cold."""
    span = practice_span("conventional", 0.0, 3 * H, celsius(air_f), math.inf)
    assert span.closes_s / H == pytest.approx(closes_h, abs=0.1)


def test_the_surface_drop_closes_practice_and_is_named() -> None:
    """Source: after Okamoto et al., FHWA-RD-91-079, 15 °F (from memory, not verified)."""
    span = practice_span("conventional", 0.0, 3 * H, 21.0, 13 * H)
    assert span.closes_s == 13 * H
    assert "FHWA-RD-91-079" in span.source
