"""Tension at the slab's surface against what the concrete can take: when cracks come by themselves."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

from slabtide.engine.column import CONCRETE_RHO_KG_M3
from slabtide.engine.strength import stiffness_mpa, strength_mpa, tensile_strength_mpa

EXPANSION_PER_K = 9.9e-6  # 5.5e-6 per °F; limestone less (EST)
RELAXATION = 0.6  # share of early stress that creep leaves (EST, 0.5 to 0.65 under a day)
FRICTION = 1.5  # slab on its base (EST; a plastic sheet 0.5, rough stone 2)
_GRAVITY_M_S2 = 9.81
_POISSON = 0.15
_BEDDING_MPA_M = 40.7  # 150 pci (EST)
_SHRINKAGE_LATE = 350e-6  # ACI 209.2R-08 worked example, about 70 % humidity
_SHRINKAGE_HALF_D = 35.0
RATIO_CAP = 10.0
_CORNER = 1.3  # tension at a re-entrant corner over that of a plain edge (EST)


@dataclass(frozen=True, slots=True)
class Restraint:
    """What holds a slab: its thickness [m], longest run without a joint [m], friction on its base, the share
    of its length bonded to concrete that doesn't move [0..1], and whether it has a re-entrant corner."""

    thickness_m: float
    uncut_length_m: float
    base_friction: float = FRICTION
    neighbours: float = 0.0
    cornered: bool = False


def drag_limit_mpa(uncut_length_m: float, base_friction: float = FRICTION) -> float:
    """Most tension that friction on the base can build over a run without a joint [MPa].

    Source: subgrade drag, friction times weight over half the length.

    >>> round(drag_limit_mpa(4.572) / 0.00689476, 1)
    11.5
    """
    return base_friction * CONCRETE_RHO_KG_M3 * _GRAVITY_M_S2 * uncut_length_m / 2.0 / 1e6


def stiffness_radius_m(stiffness: float, thickness_m: float, bedding_mpa_m: float = _BEDDING_MPA_M) -> float:
    """Radius of relative stiffness [m] for a modulus [MPa], a thickness [m] and a bedding [MPa/m].

    Source: Westergaard (1926).
    """
    rigidity = stiffness * thickness_m**3 / (12.0 * (1.0 - _POISSON**2))
    return math.sqrt(math.sqrt(rigidity / bedding_mpa_m))


def curl_coefficient(length_per_radius: float) -> float:
    """Share of full restraint that a slab's own weight gives against curling.

    length_per_radius -- uncut length over radius of relative stiffness

    Source: Bradbury (1938) after Westergaard; rises past 1 near 9, settles at 1.

    >>> round(curl_coefficient(4.0), 2)
    0.44
    """
    a = min(length_per_radius, 60.0) / math.sqrt(8.0)
    if a < 0.05:
        return 0.0
    top = math.sin(a) * math.cosh(a) + math.cos(a) * math.sinh(a)
    return 1.0 - 2.0 * top / (math.sin(2.0 * a) + math.sinh(2.0 * a))


def drying_shrinkage(days: float) -> float:
    """Free shrinkage [m/m] after some days of drying. Source: ACI 209R-92, late value 350e-6.

    >>> round(drying_shrinkage(7.0) * 1e6)
    58
    """
    return _SHRINKAGE_LATE * days / (_SHRINKAGE_HALF_D + days)


def stress_ratios(
    times_s: Sequence[float],
    ages_h: Sequence[float],
    surface_c: Sequence[float],
    mean_c: Sequence[float],
    lift_c: Sequence[float],
    design_strength_mpa: float,
    restraint: Restraint,
) -> list[float]:
    """Surface tension over tensile strength at each time, from final set on (the first entry is 0).

    Cooling builds stress at the stiffness of the moment, so warmth at set and cold at night add up. The mean
    is held by friction alone and slips past its limit, but wholly where a neighbour bonds; the straight
    gradient is held by the slab's weight; what is left of the profile is held wholly. A re-entrant corner
    gathers all but the last. Compression reads as 0.

    Source: Westergaard and Bradbury for curling, drag for the mean, ACI 209R-92 for shrinkage, relaxation as
    one factor (EST).
    """
    length, bonded = restraint.uncut_length_m, restraint.neighbours
    limit = drag_limit_mpa(length, restraint.base_friction)
    gathered = _CORNER if restraint.cornered else 1.0
    dragged = locked = curled = skin = 0.0
    ratios = [0.0]
    shrunk = [drying_shrinkage((time - times_s[0]) / 86_400.0) for time in times_s]
    rest_c = [surface - mean - lift for surface, mean, lift in zip(surface_c, mean_c, lift_c, strict=True)]
    for i in range(1, len(times_s)):
        strength = strength_mpa((ages_h[i] + ages_h[i - 1]) / 2.0, design_strength_mpa)
        stiffness = stiffness_mpa(strength)
        per_kelvin = stiffness * EXPANSION_PER_K
        pulled = per_kelvin * (mean_c[i - 1] - mean_c[i]) + stiffness * (shrunk[i] - shrunk[i - 1])
        dragged = min(limit, max(-limit, dragged + pulled))
        locked += pulled
        curled += per_kelvin * (lift_c[i - 1] - lift_c[i])
        skin += per_kelvin * (rest_c[i - 1] - rest_c[i])
        share = curl_coefficient(length / stiffness_radius_m(stiffness, restraint.thickness_m))
        held = (1.0 - bonded) * dragged + bonded * locked
        tension = RELAXATION * (gathered * (held + share * curled) + skin)
        ratios.append(min(RATIO_CAP, max(0.0, tension / tensile_strength_mpa(strength))))
    return ratios
