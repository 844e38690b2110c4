"""How fast a wet concrete surface gives up water."""

import math

from slabtide.engine.humidity import saturation_vapour_pressure_kpa

# Menzel (1954), the basis of the ACI 305R chart: 0.44 (e0 - ea)(0.253 + 0.096 V) lb/ft2/h with psi and
# mph (constants from memory; held to the published table by a test). Converted exactly to kPa and km/h.
_SCALE = 0.44 * 4.882428 / 6.894757
_STILL_AIR = 0.253
_PER_KMH = 0.096 / 1.609344

PRECAUTION_KG_M2_H = 1.0  # ACI 305.1: above this, protect the surface
LOW_BLEED_KG_M2_H = 0.5  # for mixes that bleed little (from memory, not verified)
BAND = 0.40  # Hover (2020), ACI SP-338: the formula stands within ±40 % of what was weighed


def evaporation_kg_m2_h(concrete_temp_c: float, air_temp_c: float, rh: float, wind_kmh: float) -> float:
    """Water a wet surface would lose [kg/m2/h]; never below zero (dew is not counted). Within ±40 %.

    concrete_temp_c -- surface temperature of the concrete [°C]
    air_temp_c, rh -- air [°C], relative humidity [0..1]
    wind_kmh -- wind half a metre over the slab [km/h], see `wind.wind_at_slab`

    Source: Menzel (1954). Good for a surface still wet, 4 to 40 °C, wind up to 40 km/h.

    >>> round(evaporation_kg_m2_h(21.1, 21.1, 0.50, 16.1), 2)
    0.47
    """
    deficit = saturation_vapour_pressure_kpa(concrete_temp_c) - rh * saturation_vapour_pressure_kpa(
        air_temp_c
    )
    return max(0.0, deficit * evaporation_slope_kg_m2_h_kpa(wind_kmh))


def evaporation_slope_kg_m2_h_kpa(wind_kmh: float) -> float:
    """Evaporation per kPa of vapour pressure between surface and air [kg/m2/h·kPa]; wind as above.

    Source: Menzel (1954).

    >>> round(evaporation_slope_kg_m2_h_kpa(0.0), 4)
    0.0788
    """
    return _SCALE * (_STILL_AIR + _PER_KMH * wind_kmh)


def evaporation_uno_kg_m2_h(concrete_temp_c: float, air_temp_c: float, rh: float, wind_kmh: float) -> float:
    """The same by a second formula [kg/m2/h], as a cross-check.

    Source: Uno, P.J. (1998), ACI Materials Journal 95(4), Title 95-M34, SI form (secondary quotation).

    >>> round(evaporation_uno_kg_m2_h(35.0, 30.0, 0.40, 20.0), 3)
    1.688
    """
    drive = math.pow(concrete_temp_c + 18.0, 2.5) - rh * math.pow(air_temp_c + 18.0, 2.5)
    return max(0.0, 5e-6 * drive * (wind_kmh + 4.0))
