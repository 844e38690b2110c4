"""Wind brought from where it was measured down to the slab."""

import math

SLAB_HEIGHT_M = 0.5
ROUGHNESS_M = 0.01  # short grass and bare yard (EST; 0.005 to 0.03 m moves the factor from 0.61 to 0.48)


def wind_at_slab(wind: float, height_m: float, roughness_m: float = ROUGHNESS_M) -> float:
    """Wind half a metre over the slab, in the unit it came in.

    wind -- speed as measured or forecast [any unit]
    height_m -- height it was measured at [m], 0.3 to 100
    roughness_m -- roughness length of the ground around [m]

    Source: logarithmic wind profile for neutral air.

    >>> round(wind_at_slab(10.0, 10.0), 2)
    5.66
    """
    return wind * math.log(SLAB_HEIGHT_M / roughness_m) / math.log(height_m / roughness_m)
