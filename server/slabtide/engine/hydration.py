"""Degree of hydration over equivalent age, and the heat it gives off."""

import math
from typing import NamedTuple

from slabtide.engine.pour import Mix


def ultimate_hydration(w_cm: float) -> float:
    """Share of the cement that hydrates in the end [0..1] at a water-cement ratio.

    Source: Mills (1966) as used by Schindler and Folliard, ACI Materials J. 102(1), 2005 (from memory, not
    verified). Valid 0.25 to 0.8, Portland cement without ash or slag.

    >>> round(ultimate_hydration(0.45), 3)
    0.72
    """
    return 1.031 * w_cm / (0.194 + w_cm)


def hydration_degree(equivalent_age_h: float, mix: Mix) -> float:
    """Degree of hydration [0..1] at an equivalent age at 23 °C [h].

    Source: three-parameter curve of Schindler and Folliard (2005), au exp(-(tau/te)^beta); tau and beta
    from the mix.
    """
    if equivalent_age_h <= 0.0:
        return 0.0
    return ultimate_hydration(mix.w_cm) * math.exp(-math.pow(mix.tau_h / equivalent_age_h, mix.beta))


def age_at_degree_h(degree: float, mix: Mix) -> float:
    """Equivalent age at 23 °C [h] at which a degree of hydration is reached; infinity if never.

    Source: the curve above, solved for age.
    """
    ultimate = ultimate_hydration(mix.w_cm)
    if degree >= ultimate:
        return math.inf
    return mix.tau_h * math.pow(math.log(ultimate / degree), -1.0 / mix.beta)


def heat_w_m3(equivalent_age_h: float, rate: float, mix: Mix) -> float:
    """Heat given off by a cubic metre of concrete [W/m3].

    equivalent_age_h -- equivalent age at 23 °C [h]
    rate -- equivalent hours per hour, see `maturity.age_rate`

    Source: Schindler and Folliard (2005): cement mass, its heat at full hydration, and d(degree)/dt.

    >>> round(heat_w_m3(8.0, 1.0, Mix()))
    1152
    """
    if equivalent_age_h <= 0.0:
        return 0.0
    curve = heat_curve(mix)
    reach = math.pow(curve.tau_h / equivalent_age_h, curve.beta)
    return curve.scale * math.exp(-reach) * reach * rate / equivalent_age_h


def whole_heat_j_m3(mix: Mix) -> float:
    """Heat of a cubic metre of concrete if all its cement hydrates [J/m3]; times the degree: what it gave."""
    return mix.hydration_heat_j_g * 1000.0 * mix.cement_kg_m3


class HeatCurve(NamedTuple):
    """What `heat_w_m3` rests on for one mix: heat times shape [J/m3 per s], and the stretched curve."""

    scale: float
    tau_h: float
    beta: float


def heat_curve(mix: Mix) -> HeatCurve:
    """The constants of `heat_w_m3` for one mix; its set factor stretches the curve."""
    scale = whole_heat_j_m3(mix) * ultimate_hydration(mix.w_cm) * mix.beta / 3600.0
    return HeatCurve(scale, mix.tau_h * mix.set_factor, mix.beta)
