"""Contraction joints: how deep, how far apart."""

from slabtide.engine.pour import SawKind

_INCH_M = 0.0254
SPACING_CAP_M = 18 * 12 * _INCH_M  # ACI 302.1R: no more than 18 ft


def joint_depth_m(thickness_m: float, saw_kind: SawKind = "conventional") -> float:
    """Least depth of a joint [m], from the deepest point of the texture.

    Conventional saw or tooled: a quarter of the thickness, 25 mm at least (the 25 mm is from memory, not
    verified). Early-entry: 25 mm in slabs up to 230 mm, above that a quarter too.

    thickness_m -- slab thickness [m]

    Source: ACI 327R-14 (a quarter); early-entry depth is trade guidance.

    >>> round(joint_depth_m(0.127) * 1000, 1)
    31.8
    """
    if saw_kind == "early-entry" and thickness_m <= 9 * _INCH_M:
        return _INCH_M
    return max(thickness_m / 4.0, _INCH_M)


def joint_spacing_m(
    thickness_m: float, slump_mm: float = 125.0, top_size_mm: float = 19.0, cap_m: float = SPACING_CAP_M
) -> float:
    """Widest joint spacing [m]: 24, 30 or 36 times the thickness.

    thickness_m -- slab thickness [m]
    slump_mm -- slump as placed [mm]; below 100 mm joints may stand wider
    top_size_mm -- largest aggregate [mm]; below 19 mm joints stand closer
    cap_m -- no more than this [m]; pass infinity for the bare table

    Source: PCA, "Concrete Floors on Ground", 2nd ed. (1983), joint spacing table; the cap is ACI 302.1R's.

    >>> round(joint_spacing_m(0.1016), 2)
    3.05
    """
    times = 36.0 if slump_mm < 100.0 else 30.0 if top_size_mm >= 19.0 else 24.0
    return min(times * thickness_m, cap_m)
