"""How hot the hours feel to the crew, and how long to work in each before a rest."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from itertools import pairwise
from typing import Literal

from slabtide.engine.heat_index import heat_index_c
from slabtide.engine.pour import WeatherHour

Effort = Literal["moderate", "heavy"]
HOUR_MIN = 60
_CHART: dict[Effort, tuple[int, tuple[int, ...]]] = {
    "moderate": (100, (45, 40, 35, 30, 30, 25, 20, 15)),
    "heavy": (95, (45, 45, 40, 35, 35, 30, 30, 25, 20, 20, 15)),
}
"""The first row [°F], and from it on, degree by degree, minutes of work in the hour; past the last row stands
caution.

Source: NIOSH, Heat stress: work/rest schedules (normal clothing); the rows read there, its number,
Publication 2017-127, from memory, not verified.
"""
_HUMIDITY_F = ((0.10, -8.0), (0.20, -4.0), (0.30, 0.0), (0.40, 3.0), (0.50, 6.0), (0.60, 9.0))
"""What the same sheet adds for humidity [°F]; from memory, not verified. Past 60 % it is held (EST)."""
_FULL_SUN_F, _SOME_SUN_F = 13.0, 7.0  # the same sheet; from memory, not verified
_FULL_SUN_W_M2, _SOME_SUN_W_M2 = 500.0, 120.0  # sun that casts sharp shadows, and any that counts (EST)


@dataclass(frozen=True, slots=True)
class CrewHour:
    """One hour at work: air [°C], heat index in the shade [°C], minutes of work before a rest fills the hour
    (60: none asked for; 0: the chart has no schedule any more), at mats and edges and at the screed."""

    at: datetime
    air_temp_c: float
    feels_c: float
    moderate_min: int
    heavy_min: int


def crew_hours(hours: Sequence[WeatherHour]) -> tuple[CrewHour, ...]:
    """Every hour as the crew feels it. Where no sun is given at all, full sun is taken, to be safe."""
    known = any(hour.solar_w_m2 > 0.0 for hour in hours)
    return tuple(_crew_hour(hour, hour.solar_w_m2 if known else _FULL_SUN_W_M2) for hour in hours)


def _crew_hour(hour: WeatherHour, solar_w_m2: float) -> CrewHour:
    air, rh = hour.air_temp_c, hour.rh
    return CrewHour(
        at=hour.at,
        air_temp_c=air,
        feels_c=heat_index_c(air, rh),
        moderate_min=work_minutes(air, rh, solar_w_m2, "moderate"),
        heavy_min=work_minutes(air, rh, solar_w_m2, "heavy"),
    )


def work_minutes(air_temp_c: float, rh: float, solar_w_m2: float, effort: Effort) -> int:
    """Minutes of work in an hour, the rest of it in the shade.

    air_temp_c, rh, solar_w_m2 -- air [°C], relative humidity [0..1], sun on a level surface [W/m2]
    60 below the first row of the chart; 0 past its last.

    Source: NIOSH Publication 2017-127.

    >>> work_minutes(40.0, 0.30, 0.0, "heavy")
    20
    """
    first, rows = _CHART[effort]
    adjusted_f = air_temp_c * 1.8 + 32.0 + _for_humidity_f(rh) + _for_sun_f(solar_w_m2)
    row = round(adjusted_f) - first
    if row < 0:
        return HOUR_MIN
    return rows[row] if row < len(rows) else 0


def _for_sun_f(solar_w_m2: float) -> float:
    if solar_w_m2 >= _FULL_SUN_W_M2:
        return _FULL_SUN_F
    return _SOME_SUN_F if solar_w_m2 >= _SOME_SUN_W_M2 else 0.0


def _for_humidity_f(rh: float) -> float:
    (low, least), (high, most) = _HUMIDITY_F[0], _HUMIDITY_F[-1]
    if rh <= low:
        return least
    if rh >= high:
        return most
    for (left, below), (right, above) in pairwise(_HUMIDITY_F):
        if rh <= right:
            return below + (above - below) * (rh - left) / (right - left)
    return most
