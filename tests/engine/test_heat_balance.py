"""The heat balance against a general stiff solver on the same equations, on a finer grid."""

import math
import time
from collections.abc import Callable, Sequence
from typing import TypeVar

import numpy as np
import pytest
from numpy.typing import NDArray
from scipy.integrate import solve_ivp
from tests.engine.born import born

from slabtide.engine import Pour
from slabtide.engine import column as column_module
from slabtide.engine.bleeding import DRYING_FOLD_H
from slabtide.engine.column import slab_column
from slabtide.engine.evaporation import evaporation_slope_kg_m2_h_kpa
from slabtide.engine.forcing import Forcing, forcing_between, hourly_forcing
from slabtide.engine.history import Birth, follow
from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.hydration import heat_w_m3
from slabtide.engine.maturity import KELVIN, age_rate
from slabtide.engine.sky import CONCRETE_EMISSIVITY, STEFAN_BOLTZMANN

MakePour = Callable[..., Pour]
T = TypeVar("T")


def born_into(pour: Pour) -> tuple[Birth, Sequence[Forcing]]:
    load = pour.loads[0]
    return born(pour), hourly_forcing(pour.weather.hourly, pour.slab.solar_absorptivity, load.batched_at, 0.0)


def stiff(pour: Pour, birth: Birth, hours: Sequence[Forcing], dry_s: float) -> Callable[[float], float]:
    """Surface temperature by scipy's BDF, given when the surface began to dry."""
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    slab, size = column.slab_nodes, len(column.capacity)
    capacity, conductance = np.array(column.capacity), np.array(column.conductance)
    cell = np.array(column.share) * birth.thickness_m

    def slope(now: float, state: NDArray[np.float64]) -> NDArray[np.float64]:
        temps, ages = state[:size], state[size:]
        index = min(int(now // 3600), len(hours) - 2)
        weather = forcing_between(hours[index], hours[index + 1], now / 3600 - index)
        rates = np.array([age_rate(t, pour.mix.activation_energy_j_mol) for t in temps[:slab]])
        net = np.zeros(size)
        net[:slab] = [heat_w_m3(a, r, pour.mix) * c for a, r, c in zip(ages, rates, cell, strict=True)]
        flow = conductance * (temps - np.append(temps[1:], birth.ground_temp_c))
        net -= flow
        net[1:] += flow[:-1]
        wet = 1.0 if now <= dry_s else math.exp((dry_s - now) / 3600 / DRYING_FOLD_H)
        deficit = max(0.0, saturation_vapour_pressure_kpa(temps[0]) - weather.vapour_kpa)
        water = evaporation_slope_kg_m2_h_kpa(weather.wind_kmh) * deficit * wet
        net[0] += (
            weather.gain_w_m2
            - CONCRETE_EMISSIVITY * STEFAN_BOLTZMANN * (temps[0] + KELVIN) ** 4
            + weather.convection_w_m2_k * (weather.air_temp_c - temps[0])
            - 2.45e6 / 3600 * water
        )
        return np.concatenate([net / capacity, rates / 3600.0])

    start = [birth.concrete_temp_c] * slab + [birth.ground_temp_c] * (size - slab)
    rate = age_rate(birth.concrete_temp_c, pour.mix.activation_energy_j_mol)
    start += [rate * birth.since_batch_h] * slab
    span = (birth.start_s, birth.start_s + 120 * 3600)
    answer = solve_ivp(
        slope, span, start, method="BDF", rtol=1e-5, atol=1e-4, dense_output=True, max_step=1800
    )
    assert answer.success
    return lambda now: float(answer.sol(now)[0])


def timed(work: Callable[[], T]) -> tuple[T, float]:
    """The answer, and the least processor time of three runs [s]."""
    taken = []
    for _ in range(3):
        start = time.process_time()
        answer = work()
        taken.append(time.process_time() - start)
    return answer, min(taken)


@pytest.mark.parametrize(
    ("sun_w_m2", "insulation", "concrete_c"), [(900.0, 0.9, 30.0), (300.0, 0.0, 14.0), (700.0, 1.7, 22.0)]
)
def test_it_agrees_with_a_stiff_solver_and_is_ten_times_faster(
    make_pour: MakePour, sun_w_m2: float, insulation: float, concrete_c: float
) -> None:
    pour = make_pour(sun_w_m2=sun_w_m2, insulation=insulation, concrete_c=concrete_c, swing_c=7.0)
    birth, hours = born_into(pour)
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    history, ours_s = timed(lambda: follow(birth, pour.mix, column, hours))
    truth, theirs_s = timed(lambda: stiff(pour, birth, hours, history.dry_since_s or math.inf))
    off = [surface - truth(t) for t, surface in zip(history.times_s, history.surface_c, strict=True)]
    assert math.sqrt(sum(x * x for x in off) / len(off)) < 0.05
    assert max(abs(x) for x in off[2:]) < 0.1
    print(f"ours {ours_s * 1e3:.1f} ms, scipy BDF {theirs_s * 1e3:.1f} ms, {theirs_s / ours_s:.0f} times")
    print(f"rms {math.sqrt(sum(x * x for x in off) / len(off)):.3f} K, worst {max(map(abs, off[2:])):.3f} K")
    assert theirs_s > 10 * ours_s


def test_a_finer_grid_tells_the_same(make_pour: MakePour, monkeypatch: pytest.MonkeyPatch) -> None:
    pour = make_pour(sun_w_m2=900.0, concrete_c=30.0)
    birth, hours = born_into(pour)
    plain = follow(birth, pour.mix, slab_column(0.12, 0.9), hours)
    monkeypatch.setattr(column_module, "_FIRST_CELL_M", 0.002)
    monkeypatch.setattr(column_module, "_WIDEST_CELL_M", 0.005)
    fine_column = slab_column(0.12, 0.9)
    assert fine_column.slab_nodes > 20
    fine = follow(birth, pour.mix, fine_column, hours)
    off = [abs(a - b) for a, b in zip(plain.surface_c, fine.surface_c, strict=True)]
    assert max(off[3:]) < 0.15
    assert max(abs(a - b) for a, b in zip(plain.mean_c, fine.mean_c, strict=True)) < 0.1


def test_the_surface_cell_is_five_millimetres_at_most_and_cells_fill_the_slab() -> None:
    for thickness_m in (0.05, 0.1, 0.145, 0.3, 0.6):
        column = slab_column(thickness_m, 0.0)
        assert column.depth_m[1] <= 0.005 + 1e-9
        assert column.depth_m[-1] == pytest.approx(thickness_m)
        assert sum(column.share) == pytest.approx(1.0)
