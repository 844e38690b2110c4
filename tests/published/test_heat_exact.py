"""Conduction against exact solutions: half-space, plate, layers at rest, order of convergence."""

import math

import pytest

from slabtide.engine.column import (
    CONCRETE_CP_J_KG_K,
    CONCRETE_K_W_M_K,
    CONCRETE_RHO_KG_M3,
    SOIL_K_W_M_K,
    Column,
    Stepper,
    slab_column,
)
from slabtide.engine.evaporation import evaporation_kg_m2_h
from slabtide.engine.exchange import LATENT_J_KG, bare_exchange
from slabtide.engine.forcing import Forcing
from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.maturity import KELVIN
from slabtide.engine.sky import STEFAN_BOLTZMANN, sky_emissivity
from slabtide.engine.wind import wind_at_slab

K, RHO, CP = CONCRETE_K_W_M_K, CONCRETE_RHO_KG_M3, CONCRETE_CP_J_KG_K


def plate(thickness_m: float, cells: int, k: float = K, cp: float = CP) -> Column:
    """A plate of equal cells with nothing passing its foot."""
    width = thickness_m / cells
    shares = [0.5 / cells] + [1.0 / cells] * (cells - 1) + [0.5 / cells]
    return Column(
        capacity=tuple(share * thickness_m * RHO * cp for share in shares),
        conductance=(k / width,) * cells + (0.0,),
        share=tuple(shares),
        depth_m=tuple(width * i for i in range(cells + 1)),
        slab_nodes=cells + 1,
    )


def marched(column: Column, start: float, air: float, h: float, hours: float, span_s: float) -> list[float]:
    """The engine's own steps, the first backward Euler, then BDF2, under air at a constant temperature."""
    first, after = Stepper(column, span_s, 1.0), Stepper(column, span_s, 1.5)
    before = temps = [start] * len(column.capacity)
    for step in range(round(hours * 3600 / span_s)):
        stepper = after if step else first
        weights = (2.0, 0.5) if step else (1.0, 0.0)
        right = [
            r * (weights[0] * t - weights[1] * b) for r, t, b in zip(stepper.rate, temps, before, strict=True)
        ]
        before, temps = temps, stepper.solve(right, 0.0, h * air, h)
    return temps


def exact_plate(depth_m: float, thickness_m: float, hours: float, h: float) -> float:
    """Share of the step in air reached in a plate, its foot insulated. Source: Carslaw and Jaeger (1959),
    section 3.11, series over the roots of beta tan(beta) = Bi."""
    biot = h * thickness_m / K
    fourier = K / RHO / CP * hours * 3600 / thickness_m**2
    left = 0.0
    for n in range(40):
        low, high = n * math.pi + 1e-12, n * math.pi + math.pi / 2 - 1e-12
        for _ in range(80):
            beta = (low + high) / 2
            low, high = (beta, high) if beta * math.tan(beta) < biot else (low, beta)
        weight = 4 * math.sin(beta) / (2 * beta + math.sin(2 * beta))
        left += weight * math.cos(beta * (1 - depth_m / thickness_m)) * math.exp(-(beta**2) * fourier)
    return 1.0 - left


@pytest.mark.parametrize("hours", [0.5, 1, 3, 8])
@pytest.mark.parametrize("h", [8.0, 25.0])
def test_a_plate_warms_as_the_exact_series(hours: float, h: float) -> None:
    """Within 0.02 K of 20 K, at 5 mm and one minute."""
    column = plate(0.12, 24)
    temps = marched(column, 0.0, 20.0, h, hours, 60.0)
    for depth_m, temp in zip(column.depth_m, temps, strict=True):
        assert temp == pytest.approx(20 * exact_plate(depth_m, 0.12, hours, h), abs=0.02)


@pytest.mark.parametrize(("depth_m", "hours", "told"), [(0.05, 1, 0.4608), (0.10, 3, 0.3944)])
def test_a_half_space_under_a_step_at_its_surface(depth_m: float, hours: float, told: float) -> None:
    """Source: Carslaw and Jaeger (1959), erfc(x / 2 sqrt(a t)), k 1.5, 2350 kg/m3, 1000 J/kg·K. The surface
    is held by an exchange of 1e6 W/m2·K. Within 0.002."""
    spread = 2 * math.sqrt(1.5 / 2350 / 1000 * hours * 3600)
    assert math.erfc(depth_m / spread) == pytest.approx(told, abs=0.0001)
    column = plate(1.0, 200, k=1.5, cp=1000.0)
    temps = marched(column, 0.0, 1.0, 1e6, hours, 60.0)
    assert temps[round(depth_m / 0.005)] == pytest.approx(told, abs=0.002)


def test_the_steps_are_of_second_order() -> None:
    """Halving the step quarters the error against the exact plate's own semi-discrete answer (steps of 5 s):
    measured order 1.9 to 2.1."""
    column = plate(0.12, 12)
    truth = marched(column, 0.0, 20.0, 12.0, 4, 5.0)

    def error(span_s: float) -> float:
        ours = marched(column, 0.0, 20.0, 12.0, 4, span_s)
        return math.sqrt(sum((a - b) ** 2 for a, b in zip(ours, truth, strict=True)))

    assert math.log2(error(480) / error(120)) / 2 == pytest.approx(2.0, abs=0.1)


def test_the_grid_is_of_second_order_too() -> None:
    """Halving the cells quarters the error at the surface against the exact series."""

    def error(cells: int) -> float:
        surface = marched(plate(0.12, cells), 0.0, 20.0, 12.0, 2, 10.0)[0]
        return abs(surface - 20 * exact_plate(0.0, 0.12, 2, 12.0))

    assert math.log2(error(4) / error(8)) == pytest.approx(2.0, abs=0.3)


@pytest.mark.parametrize("insulation", [0.0, 0.9, 4.0])
@pytest.mark.parametrize("thickness_m", [0.08, 0.15])
def test_layers_at_rest_pass_what_their_resistances_allow(insulation: float, thickness_m: float) -> None:
    """Source: heat through resistances in line: 1/h, slab, contact 0.01, insulation, one metre of soil.
    Within one part in ten thousand."""
    column = slab_column(thickness_m, insulation)
    h, air, ground = 15.0, 30.0, 10.0
    stepper = Stepper(column, 1e9, 1.0)
    temps = [20.0] * len(column.capacity)
    for _ in range(3):
        right = [r * t for r, t in zip(stepper.rate, temps, strict=True)]
        temps = stepper.solve(right, ground, h * air, h)
    resistance = 1 / h + thickness_m / K + 0.01 + insulation + 1.0 / SOIL_K_W_M_K
    assert h * (air - temps[0]) == pytest.approx((air - ground) / resistance, rel=1e-4)


@pytest.mark.parametrize(("absorptivity", "told_k"), [(0.55, 25), (0.70, 31), (0.85, 38)])
def test_dark_concrete_in_the_sun_stands_as_far_over_the_air_as_sol_air_says(
    absorptivity: float, told_k: float
) -> None:
    """Source: sol-air rise a G / h at 900 W/m2 and 20 W/m2·K in all, worked by hand. Within 1 K: exchange as
    a straight line against the fourth power."""
    air = 25.0
    balance = STEFAN_BOLTZMANN * 0.92 * (air + KELVIN) ** 4  # a sky as warm as the air
    convection = 20.0 - 4 * STEFAN_BOLTZMANN * 0.92 * (air + told_k / 2 + KELVIN) ** 3
    forcing = Forcing(absorptivity * 900 + balance, convection, air, 1.0, 0.0)
    low, high = air, air + 80
    for _ in range(60):
        mid = (low + high) / 2
        low, high = (mid, high) if bare_exchange(forcing, mid, 0.0).flux > 0 else (low, mid)
    assert low - air == pytest.approx(told_k, abs=1.0)


@pytest.mark.parametrize(("kg_m2_h", "told_w_m2"), [(0.25, 170), (0.5, 340), (1.0, 681)])
def test_the_heat_that_evaporation_takes(kg_m2_h: float, told_w_m2: float) -> None:
    """Source: latent heat of water 2.45 MJ/kg at 20 °C. The wet surface's flux is less by just that."""
    assert kg_m2_h * LATENT_J_KG / 3600 == pytest.approx(told_w_m2, abs=1)
    forcing = Forcing(400.0, 15.0, 22.0, 0.5 * saturation_vapour_pressure_kpa(22.0), 15.0)
    wet, dry = bare_exchange(forcing, 24.0, 1.0), bare_exchange(forcing, 24.0, 0.0)
    lost = evaporation_kg_m2_h(24.0, 22.0, 0.5, 15.0)
    assert wet.demand == pytest.approx(lost)
    assert dry.flux - wet.flux == pytest.approx(lost * LATENT_J_KG / 3600)


@pytest.mark.parametrize(("air_c", "rh", "told"), [(20, 0.5, 0.788), (25, 0.8, 0.866)])
def test_a_clear_sky_after_prata(air_c: float, rh: float, told: float) -> None:
    """Source: Prata (1996), as in Convertino et al. (2020), worked apart from this code. Within 0.002. A
    surface as warm as the air loses the rest of the fourth power: 60 to 90 W/m2."""
    emissivity = sky_emissivity(air_c, rh * saturation_vapour_pressure_kpa(air_c), 0.0)
    assert emissivity == pytest.approx(told, abs=0.002)
    assert 55 < (1 - emissivity) * STEFAN_BOLTZMANN * (air_c + KELVIN) ** 4 < 95


@pytest.mark.parametrize(("roughness_m", "told"), [(0.005, 0.61), (0.03, 0.48)])
def test_ten_metre_wind_at_the_slab(roughness_m: float, told: float) -> None:
    """Source: logarithmic profile from 10 m to half a metre, worked by hand. Within 0.01."""
    assert wind_at_slab(1.0, 10.0, roughness_m) == pytest.approx(told, abs=0.01)
