"""Heat that comes down from the sky."""

import math

from slabtide.engine.maturity import KELVIN

STEFAN_BOLTZMANN = 5.670374e-8
CONCRETE_EMISSIVITY = 0.92  # between 0.88 and 0.94 (EST)


def sky_emissivity(air_temp_c: float, vapour_kpa: float, cloud: float) -> float:
    """Emissivity of the sky [0..1] from the air [°C], its vapour pressure [kPa] and cloud cover [0..1].

    Source: clear sky by Prata (1996); clouds close 0.8 of the gap to 1 (both as told by Convertino et al.,
    Building and Environment 177 (2020) 106875; the 0.8 from memory, not verified).

    >>> round(sky_emissivity(20.0, 1.17, 0.0), 3)
    0.788
    """
    water = 465.0 * vapour_kpa / (air_temp_c + KELVIN)
    clear = 1.0 - (1.0 + water) * math.exp(-math.sqrt(1.2 + 3.0 * water))
    return clear + (1.0 - clear) * 0.8 * cloud


def convection_w_m2_k(wind_m_s: float) -> float:
    """Convective exchange of a rough level surface [W/m2·K] at a wind over it [m/s].

    Source: McAdams (1954): 5.7 + 3.8 v up to 5 m/s, 6.47 v^0.78 above (from memory, not verified).

    >>> round(convection_w_m2_k(2.0), 1)
    13.3
    """
    return 5.7 + 3.8 * wind_m_s if wind_m_s < 5.0 else 6.47 * math.pow(wind_m_s, 0.78)
