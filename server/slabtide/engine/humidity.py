"""Water vapour in air: saturation pressure and dew point (Magnus form)."""

import math

# Alduchov, O.A. and Eskridge, R.E. (1996), "Improved Magnus form approximation of saturation vapor
# pressure", J. Appl. Meteor. 35 (constants from memory; held to ASHRAE's formulas by a test, 0.3 %).
_SCALE_KPA = 0.61094
_SLOPE = 17.625
_OFFSET_C = 243.04
DRIEST_RH = 0.01


def saturation_vapour_pressure_kpa(air_temp_c: float) -> float:
    """Saturation vapour pressure over water [kPa] at a temperature [°C], -40 to 60 °C.

    Source: Alduchov and Eskridge (1996), Magnus form.

    >>> round(saturation_vapour_pressure_kpa(20.0), 3)
    2.333
    """
    return _SCALE_KPA * math.exp(_SLOPE * air_temp_c / (air_temp_c + _OFFSET_C))


def dew_point_c(air_temp_c: float, rh: float) -> float:
    """Dew point [°C] of air at a temperature [°C] and relative humidity [0..1; below 0.01 reads as 0.01].

    Source: the Magnus form above, solved for temperature.

    >>> round(dew_point_c(25.0, 0.60), 1)
    16.7
    """
    humidity = min(max(rh, DRIEST_RH), 1.0)
    g = math.log(humidity) + _SLOPE * air_temp_c / (air_temp_c + _OFFSET_C)
    return _OFFSET_C * g / (_SLOPE - g)
