"""Compressive strength, and the tensile strength and stiffness that go with it, over equivalent age."""

import math

PSI_MPA = 0.00689476
_LATE_SHARE = 5722.0 / 4000.0  # long-age strength over design strength
_HALF_H = 39.6
_SHAPE = 0.624


def strength_mpa(equivalent_age_h: float, design_strength_mpa: float) -> float:
    """Mean compressive strength [MPa] at an equivalent age at 23 °C [h].

    A 4,000 psi mix is taken to reach 4,800 psi in the mean. Below a day it is an extrapolation.

    Source: exponential curve fitted to ACI 209R-92, moist-cured Type III (1, 3, 7, 28 d: 0.31, 0.59, 0.80,
    1.00 of 28-day strength), near modern Type I/II field results (EST).

    >>> round(strength_mpa(24.0, 27.58) / PSI_MPA / 10) * 10
    1460
    """
    if equivalent_age_h <= 0.0:
        return 0.0
    return _LATE_SHARE * design_strength_mpa * math.exp(-math.pow(_HALF_H / equivalent_age_h, _SHAPE))


def age_at_strength_h(strength: float, design_strength_mpa: float) -> float:
    """Equivalent age [h] at which a mean compressive strength [MPa] is reached; infinity if never."""
    late = _LATE_SHARE * design_strength_mpa
    if strength >= late:
        return math.inf
    return _HALF_H * math.pow(math.log(late / strength), -1.0 / _SHAPE)


def tensile_strength_mpa(strength: float) -> float:
    """Splitting tensile strength [MPa] at a compressive strength [MPa].

    Source: Oluokun (1991), early-age concrete, 0.584 fc^0.79 in psi (from memory, not verified).

    >>> round(tensile_strength_mpa(1000 * PSI_MPA) / PSI_MPA)
    137
    """
    return 0.584 * math.pow(max(strength, 0.0) / PSI_MPA, 0.79) * PSI_MPA


def stiffness_mpa(strength: float) -> float:
    """Modulus of elasticity [MPa] at a compressive strength [MPa].

    Source: ACI 318, 57000 sqrt(fc) in psi. With tension on another power than this, age can be seen.

    >>> round(stiffness_mpa(27.58))
    24856
    """
    return 57_000.0 * math.sqrt(max(strength, 0.0) / PSI_MPA) * PSI_MPA
