"""Equivalent age: how long the concrete would have needed at 23 °C to get where it is."""

import math

GAS_CONSTANT_J_MOL_K = 8.314
KELVIN = 273.15
REFERENCE_C = 23.0  # the one reference temperature of the whole engine
_STOPS_AT_C = -5.0  # below 0 °C pore water freezes; the rate fades out by here (EST)


def age_rate(temp_c: float, activation_energy_j_mol: float) -> float:
    """Equivalent hours per hour, 1 at 23 °C.

    Arrhenius above 0 °C; below, faded in a straight line to nothing at -5 °C.

    temp_c -- concrete temperature [°C]
    activation_energy_j_mol -- apparent activation energy [J/mol]

    Source: Freiesleben Hansen and Pedersen (1977) as in ASTM C1074; the fade is our estimate.

    >>> round(age_rate(30.0, 40_000), 3)
    1.455
    """
    rate = math.exp(
        activation_energy_j_mol
        / GAS_CONSTANT_J_MOL_K
        * (1.0 / (REFERENCE_C + KELVIN) - 1.0 / (temp_c + KELVIN))
    )
    if temp_c >= 0.0:
        return rate
    return rate * max(0.0, 1.0 - temp_c / _STOPS_AT_C)
