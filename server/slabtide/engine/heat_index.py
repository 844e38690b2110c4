"""How hot the air feels to the crew."""

import math

CAUTION_C = 26.7  # 80 °F
EXTREME_CAUTION_C = 32.2  # 90 °F
DANGER_C = 39.4  # 103 °F
EXTREME_DANGER_C = 51.7  # 125 °F


def heat_index_c(air_temp_c: float, rh: float) -> float:
    """Heat index in the shade [°C]; full sun can add 8 °C.

    air_temp_c, rh -- air [°C], relative humidity [0..1]

    Source: Rothfusz, L.P. (1990), US National Weather Service SR 90-23, with the two adjustments and the
    simple form below 80 °F that the service publishes.

    >>> round(heat_index_c(32.2, 0.70))
    41
    """
    t = air_temp_c * 1.8 + 32.0
    r = rh * 100.0
    simple = 0.5 * (t + 61.0 + (t - 68.0) * 1.2 + 0.094 * r)
    # The service averages the simple value with the air temperature; this form has that in it already.
    index = _regression_f(t, r) + _adjustment_f(t, r) if simple >= 80.0 else simple
    return (index - 32.0) / 1.8


def _regression_f(t: float, r: float) -> float:
    return (
        -42.379
        + 2.04901523 * t
        + 10.14333127 * r
        - 0.22475541 * t * r
        - 0.00683783 * t * t
        - 0.05481717 * r * r
        + 0.00122874 * t * t * r
        + 0.00085282 * t * r * r
        - 0.00000199 * t * t * r * r
    )


def _adjustment_f(t: float, r: float) -> float:
    if r < 13.0 and 80.0 <= t <= 112.0:
        return -(13.0 - r) / 4.0 * math.sqrt((17.0 - abs(t - 95.0)) / 17.0)
    if r > 85.0 and 80.0 <= t <= 87.0:
        return (r - 85.0) / 10.0 * (87.0 - t) / 5.0
    return 0.0
