"""The surface clock: when the slab bears a finisher. Runs on the surface's own temperature."""

import math

from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Mix
from slabtide.engine.setting import initial_set_h

# ASCC Position Statement 15: wait to a power float 4 1/4 h at 50 °F, 2 3/4 h at 70 °F, 1 3/4 h at 90 °F.
# Least squares through the three: 2.70 h at 70 °F, 28.7 kJ/mol. Finishers count the wait from strike-off;
# our clock starts when water meets cement, half an hour sooner as a rule (EST). 3.20 h at 70 °F is:
FOOTPRINT_H = 2.97  # at 23 °C, from batching to a 6 mm footprint
PLACING_H = 0.5
ACTIVATION_ENERGY_J_MOL = 28_700.0
FOOTPRINT_MM = 6.0

EDGE_SHARE = 0.85  # the first pass of the edger goes in before the slab bears a boot (EST)
MAG_SHARE = 0.92  # from knee boards (EST)
TEXTURE_SHARE = 1.0
_DEPTH_POWER = 4.0  # print depth falls with about this power of age (EST)


def surface_rate(temp_c: float) -> float:
    """Surface-clock hours per hour at a surface temperature [°C], 1 at 23 °C.

    Source: Arrhenius with the apparent activation energy of the ASCC PS-15 survey.

    >>> round(FOOTPRINT_H / surface_rate(32.2) - PLACING_H, 2)
    1.59
    """
    return age_rate(temp_c, ACTIVATION_ENERGY_J_MOL)


def footprint_age_h(mix: Mix) -> float:
    """Surface-clock age from batching to a 6 mm footprint [h], before the set factor.

    The survey's wait is taken as that of the default mix; a mix that sets sooner or later by its hydration
    curve moves it in proportion (EST).

    >>> round(footprint_age_h(Mix()), 2)
    2.97
    """
    return FOOTPRINT_H * initial_set_h(mix) / initial_set_h(Mix())


def share_at_depth(depth_mm: float) -> float:
    """Share of the way to a 6 mm footprint that a print of this depth [mm] tells of; 1 at 6 mm (EST).

    >>> round(share_at_depth(12.0), 2)
    0.84
    """
    return math.pow(FOOTPRINT_MM / max(depth_mm, 0.5), 1.0 / _DEPTH_POWER)
