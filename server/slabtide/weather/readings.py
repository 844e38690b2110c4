"""On-site readings: what was measured at the slab corrects the hours around it, then fades.

A reading's difference from the series decays by e in three hours, forward and backward; between two
readings both have their say, so that the corrected series passes through each of them. The three hours
are a setting from practice (common practice, no source).
"""

import math
from collections.abc import Callable, Iterable, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from slabtide.engine.pour import WeatherHour
from slabtide.engine.sun import clouded_w_m2

DECAY_HOURS = 3.0
RAIN_SEEN_MM = 1.0  # in an hour, where someone saw rain and the series has less (common practice, no source)
HAND_HEIGHT_M = 2.0
_ROUGHNESS_M = 0.03
_Value = Callable[[WeatherHour], float]


@dataclass(frozen=True, slots=True)
class Reading:
    """What someone measured or saw at the slab; None where nothing was. Wind: at hand height (2 m) [km/h]."""

    at: datetime
    air_temp_c: float | None = None
    rh: float | None = None
    wind_kmh: float | None = None
    cloud: float | None = None
    raining: bool | None = None


def corrected(hours: Sequence[WeatherHour], readings: Iterable[Reading]) -> tuple[WeatherHour, ...]:
    """The hours with every reading worked in. Readings outside the series are left out. Rain seen, or seen to
    be absent, corrects the next hour.

    Humidity and cloud stay in 0 to 1, wind stays at or above 0; sun follows cloud.
    """
    if not hours:
        return ()
    inside = sorted(
        (reading for reading in readings if hours[0].at <= reading.at <= hours[-1].at), key=lambda r: r.at
    )
    air = _differences(hours, inside, lambda h: h.air_temp_c, lambda r, _h: r.air_temp_c)
    damp = _differences(hours, inside, lambda h: h.rh, lambda r, _h: r.rh)
    wind = _differences(hours, inside, lambda h: h.wind_kmh, _wind_at_series_height)
    cloud = _differences(hours, inside, lambda h: h.cloud, lambda r, _h: r.cloud)
    wet = _rained(hours, inside)
    return tuple(
        _with(
            replace(hour, rain_mm=wet.get(hour.at, hour.rain_mm)) if hour.at in wet else hour,
            *(_fading(hour.at, parts) for parts in (air, damp, wind, cloud)),
        )
        for hour in hours
    )


def _rained(hours: Sequence[WeatherHour], readings: Sequence[Reading]) -> dict[datetime, float]:
    """Rain [mm] of the hours that the next hour from each reading falls in; the later reading has its say."""
    found: dict[datetime, float] = {}
    for reading in readings:
        if reading.raining is None:
            continue
        for hour in hours:
            if timedelta(hours=-1) < hour.at - reading.at < timedelta(hours=1):
                found[hour.at] = max(RAIN_SEEN_MM, hour.rain_mm) if reading.raining else 0.0
    return found


def _with(hour: WeatherHour, air: float, damp: float, wind: float, cloud: float) -> WeatherHour:
    if not (air or damp or wind or cloud):
        return hour
    clouded = _unit(hour.cloud + cloud)
    return replace(
        hour,
        air_temp_c=hour.air_temp_c + air,
        rh=_unit(hour.rh + damp),
        wind_kmh=max(0.0, hour.wind_kmh + wind),
        cloud=clouded,
        solar_w_m2=min(1400.0, hour.solar_w_m2 * clouded_w_m2(1.0, clouded) / clouded_w_m2(1.0, hour.cloud)),
    )


def _unit(value: float) -> float:
    return min(1.0, max(0.0, value))


def _wind_at_series_height(reading: Reading, hour: WeatherHour) -> float | None:
    """A hand-held wind brought to the height of the series by the logarithmic profile over open ground."""
    if reading.wind_kmh is None:
        return None
    return (
        reading.wind_kmh
        * math.log(hour.wind_height_m / _ROUGHNESS_M)
        / math.log(HAND_HEIGHT_M / _ROUGHNESS_M)
    )


def _differences(
    hours: Sequence[WeatherHour],
    readings: Sequence[Reading],
    of_hour: _Value,
    of_reading: Callable[[Reading, WeatherHour], float | None],
) -> list[tuple[datetime, float]]:
    """(time, reading minus series) for every reading that says something."""
    found = []
    for reading in readings:
        index = min(int((reading.at - hours[0].at) / timedelta(hours=1)), len(hours) - 1)
        value = of_reading(reading, hours[index])
        if value is not None:
            found.append((reading.at, value - _between(hours, index, reading.at, of_hour)))
    return found


def _between(hours: Sequence[WeatherHour], index: int, at: datetime, of_hour: _Value) -> float:
    if index + 1 >= len(hours):
        return of_hour(hours[index])
    part = (at - hours[index].at) / (hours[index + 1].at - hours[index].at)
    return (1 - part) * of_hour(hours[index]) + part * of_hour(hours[index + 1])


def _fading(at: datetime, differences: Sequence[tuple[datetime, float]]) -> float:
    """What the readings before and after `at` still say there."""
    before = [item for item in differences if item[0] <= at][-1:]
    after = [item for item in differences if item[0] > at][:1]
    if before and after:
        part = (at - before[0][0]) / (after[0][0] - before[0][0])
        return (1 - part) * _faded(at, *before[0]) + part * _faded(at, *after[0])
    return sum(_faded(at, *item) for item in (*before, *after))


def _faded(at: datetime, read_at: datetime, difference: float) -> float:
    return difference * math.exp(-abs((at - read_at).total_seconds()) / 3600 / DECAY_HOURS)
