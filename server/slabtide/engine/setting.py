"""The set clock: equivalent age to initial and final set, and penetration resistance between."""

import math
from collections.abc import Sequence

from slabtide.engine.hydration import age_at_degree_h
from slabtide.engine.pour import Mix

INITIAL_SET_MPA = 3.447  # ASTM C403: 500 psi
FINAL_SET_MPA = 27.58  # ASTM C403: 4000 psi
TEXTURE_CLOSES_MPA = 1.0  # 150 psi: a tamped mat no longer prints full depth (EST)

# Set falls at a fixed degree of hydration per water-cement ratio: Schindler, "Prediction of concrete
# setting" (2004); the two shares are from memory, not verified.
_INITIAL_PER_W_CM = 0.15
_FINAL_PER_W_CM = 0.26


def initial_set_h(mix: Mix) -> float:
    """Equivalent age at 23 °C from batching to initial set [h], before the set factor.

    Source: Schindler (2004), degree of hydration 0.15 w/cm.

    >>> round(initial_set_h(Mix()), 1)
    5.3
    """
    return age_at_degree_h(_INITIAL_PER_W_CM * mix.w_cm, mix)


def final_set_h(mix: Mix) -> float:
    """Equivalent age at 23 °C from batching to final set [h], before the set factor.

    Source: Schindler (2004), degree of hydration 0.26 w/cm.

    >>> round(final_set_h(Mix()), 1)
    7.1
    """
    return age_at_degree_h(_FINAL_PER_W_CM * mix.w_cm, mix)


def penetration_power(initial_h: float, final_h: float) -> float:
    """Power of age in penetration resistance, so that it passes both sets.

    Source: ASTM C403, log-log regression of resistance on time.
    """
    return math.log(FINAL_SET_MPA / INITIAL_SET_MPA) / math.log(final_h / initial_h)


def penetration_mpa(equivalent_age_h: float, initial_h: float, final_h: float) -> float:
    """Penetration resistance [MPa] at an equivalent age [h], no more than at final set.

    Source: ASTM C403, power law through initial (3.4 MPa) and final set (27.6 MPa).

    >>> round(penetration_mpa(5.0, 4.5, 6.0), 2)
    7.38
    """
    return penetrations_mpa([equivalent_age_h], initial_h, final_h)[0]


def penetrations_mpa(ages_h: Sequence[float], initial_h: float, final_h: float) -> list[float]:
    """`penetration_mpa` at many equivalent ages [h]."""
    power = penetration_power(initial_h, final_h)
    return [
        FINAL_SET_MPA if age_h >= final_h else INITIAL_SET_MPA * math.pow(max(age_h, 0.0) / initial_h, power)
        for age_h in ages_h
    ]


def age_at_penetration_h(resistance_mpa: float, initial_h: float, final_h: float) -> float:
    """Equivalent age [h] at which a penetration resistance [MPa] is reached. Source: as above.

    >>> round(age_at_penetration_h(1.034, 4.5, 6.0), 2)
    3.81
    """
    power = penetration_power(initial_h, final_h)
    return initial_h * math.pow(resistance_mpa / INITIAL_SET_MPA, 1.0 / power)
