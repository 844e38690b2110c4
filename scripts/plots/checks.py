"""The models beside what is published."""

import math

from matplotlib.figure import Figure
from scripts.plots.paper import ACCENT, COOL, INK, SOFT, sheet
from tests.published.test_evaporation import TABLE
from tests.published.test_heat_exact import exact_plate, marched, plate

from slabtide.engine.evaporation import evaporation_kg_m2_h, evaporation_uno_kg_m2_h
from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Mix
from slabtide.engine.setting import final_set_h, initial_set_h
from slabtide.engine.strength import PSI_MPA, strength_mpa, tensile_strength_mpa
from slabtide.engine.surface import FOOTPRINT_H, PLACING_H, surface_rate


def set_times() -> Figure:
    """Initial set and footprint over temperature beside the published table and the contractors' survey."""
    figure, (axes,) = sheet(height=3.2)
    temps_f = list(range(40, 104, 2))
    mix = Mix()

    def rate(at_f: float) -> float:
        return age_rate((at_f - 32) / 1.8, mix.activation_energy_j_mol)

    axes.plot(temps_f, [final_set_h(mix) / rate(f) for f in temps_f], color=SOFT, label="final set, ours")
    axes.plot(temps_f, [initial_set_h(mix) / rate(f) for f in temps_f], color=INK, label="initial set, ours")
    table = {40: 14.67, 50: 10.67, 60: 8, 70: 6, 80: 4, 90: 2.67, 100: 1.67}
    axes.plot(list(table), list(table.values()), "s", color=INK, ms=4, label="published setting table")
    waits = [FOOTPRINT_H / surface_rate((f - 32) / 1.8) - PLACING_H for f in temps_f]
    axes.plot(temps_f, waits, color=ACCENT, label="wait to a 6 mm footprint, ours")
    axes.plot([50, 70, 90], [4.25, 2.75, 1.75], "o", color=ACCENT, ms=5, label="ASCC PS-15 survey")
    axes.set_yscale("log", base=2)
    axes.set_yticks([1, 2, 4, 8, 16], [1, 2, 4, 8, 16])
    axes.set_xlabel("concrete, °F")
    axes.set_ylabel("hours")
    axes.legend()
    return figure


def evaporation() -> Figure:
    """Menzel's and Uno's formulas against every row of the published table."""
    figure, (axes,) = sheet(height=3.4)
    told, menzel, uno = [], [], []
    for concrete_f, air_f, rh, mph, value in TABLE:
        args = ((concrete_f - 32) / 1.8, (air_f - 32) / 1.8, rh / 100, mph * 1.609344)
        told.append(value * 4.882428)
        menzel.append(evaporation_kg_m2_h(*args))
        uno.append(evaporation_uno_kg_m2_h(*args))
    most = max(told) * 1.05
    axes.fill_between([0, most], [0, most * 0.6], [0, most * 1.4], color=SOFT, alpha=0.15, lw=0)
    axes.plot([0, most], [0, most], color=SOFT, lw=0.8)
    axes.plot(told, menzel, "o", color=INK, ms=4, label="Menzel (1954), used")
    axes.plot(told, uno, "x", color=ACCENT, ms=5, label="Uno (1998), cross-check")
    axes.set_xlabel("PCA table, kg/m² h (shaded: ±40 %, Hover 2020)")
    axes.set_ylabel("formula, kg/m² h")
    axes.legend()
    return figure


def strength() -> Figure:
    """Early strength beside ACI 209R-92, and the tension it bears."""
    figure, pair = sheet(1, 2, height=2.9)
    hours = [4 + 0.5 * i for i in range(330)]
    pair[0].plot(hours, [strength_mpa(h, 27.58) for h in hours], color=INK, label="ours, 4,000 psi mix")
    days = [1, 2, 3, 5, 7]
    for (a, b, name), colour in zip(((2.3, 0.92, "III"), (4.0, 0.85, "I")), (ACCENT, COOL), strict=True):
        values = [4800 * PSI_MPA * d / (a + b * d) for d in days]
        pair[0].plot(
            [d * 24 for d in days], values, "o", color=colour, ms=4, label=f"ACI 209R-92, Type {name}"
        )
    pair[0].set_xlabel("hours at 23 °C")
    pair[0].set_ylabel("MPa")
    pair[0].legend()
    psi = [100 + 20 * i for i in range(196)]
    tension = [tensile_strength_mpa(p * PSI_MPA) / PSI_MPA for p in psi]
    pair[1].plot(psi, tension, color=INK, label="Oluokun (1991), used")
    pair[1].plot(psi, [6.7 * math.sqrt(p) for p in psi], color=COOL, lw=1, label="6.7 √fc")
    pair[1].set_xlabel("compressive strength, psi")
    pair[1].set_ylabel("tensile strength, psi")
    pair[1].legend()
    return figure


def heat() -> Figure:
    """A plate against the exact series, and how the error falls with the step."""
    figure, pair = sheet(1, 2, height=2.9)
    depths = [0.12 * i / 60 for i in range(61)]
    for hours, colour in ((0.5, COOL), (2, INK), (6, ACCENT)):
        pair[0].plot([20 * exact_plate(x, 0.12, hours, 15.0) for x in depths], depths, color=colour, lw=1)
        column = plate(0.12, 12)
        temps = marched(column, 0.0, 20.0, 15.0, hours, 60.0)
        pair[0].plot(temps, column.depth_m, "o", color=colour, ms=3, label=f"{hours:g} h")
    pair[0].invert_yaxis()
    pair[0].set_xlabel("K of a 20 K step in the air (lines: exact)")
    pair[0].set_ylabel("depth, m")
    pair[0].legend()
    column = plate(0.12, 12)
    truth = marched(column, 0.0, 20.0, 12.0, 4, 5.0)
    spans = [30, 60, 120, 240, 480, 960]
    errors = []
    for span in spans:
        ours = marched(column, 0.0, 20.0, 12.0, 4, span)
        errors.append(math.sqrt(sum((a - b) ** 2 for a, b in zip(ours, truth, strict=True)) / len(ours)))
    pair[1].loglog(spans, errors, "o-", color=INK, ms=4, label="measured")
    pair[1].loglog(
        spans, [errors[-1] * (s / spans[-1]) ** 2 for s in spans], color=SOFT, ls=":", label="second order"
    )
    pair[1].set_xlabel("step, s")
    pair[1].set_ylabel("error after 4 h, K")
    pair[1].legend()
    return figure
