"""Degree of hydration over equivalent age, and the heat it gives off."""

import math
from collections.abc import Callable

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
    return heat_source(mix)(equivalent_age_h, rate)


def whole_heat_j_m3(mix: Mix) -> float:
    """Heat of a cubic metre of concrete if all its cement hydrates [J/m3]; times the degree: what it gave."""
    return mix.hydration_heat_j_g * 1000.0 * mix.cement_kg_m3


def heat_source(mix: Mix) -> Callable[[float, float], float]:
    """`heat_w_m3` of one mix with its constants worked out once; its set factor stretches the curve."""
    tau_h, beta = mix.tau_h * mix.set_factor, mix.beta
    scale = whole_heat_j_m3(mix) * ultimate_hydration(mix.w_cm) * beta / 3600.0

    def source(equivalent_age_h: float, rate: float) -> float:
        if equivalent_age_h <= 0.0:
            return 0.0
        reach = math.pow(tau_h / equivalent_age_h, beta)
        return scale * math.exp(-reach) * reach * rate / equivalent_age_h

    return source
