"""An hourly series from a day's low and high, for when that is all one has."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, date, datetime, time, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.pour import WeatherHour
from slabtide.engine.sun import clear_sky_w_m2, clouded_w_m2, cos_zenith, sunrise_sunset

# Parton and Logan (1981), air at 150 cm: lag of the high, night cooling, lag of the low after sunrise [h].
_LAG_HIGH_H = 1.86
_NIGHT_COOLING = 2.20
_LAG_LOW_H = -0.17
_SHORTEST_DAY_H, _LONGEST_DAY_H = 1.0, 23.0
HAND_WIND_HEIGHT_M = 10.0  # a forecast's wind is told at ten metres


@dataclass(frozen=True, slots=True)
class DayEntry:
    """A day as a person writes it down: low and high [°C], mean relative humidity [0..1], wind [km/h, at
    10 m], cloud cover [0..1]."""

    date: date
    low_c: float
    high_c: float
    rh: float
    wind_kmh: float
    cloud: float


def air_temp_by_day_c(
    hour: float, low_c: float, high_c: float, next_low_c: float, sunrise_h: float, sunset_h: float
) -> float:
    """Air temperature [°C] `hour` hours after the day's midnight, from its low to the next day's low.

    hour -- from the time of the low (10 min before sunrise) to that of the next low, so up to 24 + sunrise_h
    low_c, high_c, next_low_c -- the day's low and high, the low of the night that follows [°C]
    sunrise_h, sunset_h -- hours after midnight

    Source: Parton, W.J. and Logan, J.A. (1981), Agric. Meteorology 23:205-216, air at 150 cm. Its mean
    absolute error is 1.2 to 2.6 °C.

    >>> round(air_temp_by_day_c(14.0, 15.0, 30.0, 15.0, 6.0, 18.5), 2)
    30.0
    """
    day_h = min(max(sunset_h - sunrise_h, _SHORTEST_DAY_H), _LONGEST_DAY_H)

    def in_daylight(since_low_h: float) -> float:
        return low_c + (high_c - low_c) * math.sin(math.pi * since_low_h / (day_h + 2.0 * _LAG_HIGH_H))

    since_sunset_h = hour - sunset_h
    if since_sunset_h <= 0.0:
        return in_daylight(hour - sunrise_h - _LAG_LOW_H)
    at_sunset_c = in_daylight(day_h - _LAG_LOW_H)
    return next_low_c + (at_sunset_c - next_low_c) * math.exp(
        -_NIGHT_COOLING * since_sunset_h / (24.0 - day_h)
    )


def hourly_from_day(
    low_c: float, high_c: float, next_low_c: float, sunrise_h: float, sunset_h: float
) -> tuple[float, ...]:
    """Air temperature [°C] at the hours 0 to 24 of one day; the night before is taken as one like it.

    Source: Parton and Logan (1981), see `air_temp_by_day_c`.
    """
    low_h = sunrise_h + _LAG_LOW_H
    before = [
        air_temp_by_day_c(h + 24.0, low_c, high_c, low_c, sunrise_h, sunset_h) for h in range(25) if h < low_h
    ]
    after = [
        air_temp_by_day_c(h, low_c, high_c, next_low_c, sunrise_h, sunset_h) for h in range(25) if h >= low_h
    ]
    return tuple(before + after)


def hourly_series(
    days: Sequence[DayEntry], latitude_deg: float, longitude_deg: float, time_zone: str
) -> tuple[WeatherHour, ...]:
    """Hourly weather from local midnight of the first day to midnight after the last.

    Temperature by Parton and Logan; sun by `sun` under the day's cloud; wind and cloud stay level through
    the day; no rain. The air's vapour pressure stays near constant through a day (its mean humidity is
    the one given), so relative humidity falls as the air warms, as it does on most days without a front.

    days -- consecutive dates, at least one
    latitude_deg, longitude_deg -- north and east positive [deg]
    time_zone -- IANA name

    Raises: ValueError when days are missing, not consecutive, or a low is above its high.
    """
    _check_days(days)
    zone = ZoneInfo(time_zone)
    midnights = [_midnight(entry.date, zone) for entry in days]
    end = _midnight(days[-1].date + timedelta(days=1), zone)
    air_temp_c = _air_temp(days, midnights, latitude_deg, longitude_deg)
    vapour_kpa = _vapour(days, midnights, air_temp_c)
    series = []
    moment = midnights[0]
    while moment <= end:
        entry = days[max(index for index, start in enumerate(midnights) if start <= moment)]
        air = air_temp_c(moment)
        rh = min(1.0, vapour_kpa(moment) / saturation_vapour_pressure_kpa(air))
        sun = clouded_w_m2(clear_sky_w_m2(cos_zenith(moment, latitude_deg, longitude_deg)), entry.cloud)
        at = moment.astimezone(zone)
        series.append(WeatherHour(at, air, rh, entry.wind_kmh, HAND_WIND_HEIGHT_M, entry.cloud, sun, 0.0))
        moment += timedelta(hours=1)
    return tuple(series)


def _check_days(days: Sequence[DayEntry]) -> None:
    if not days:
        raise ValueError("at least one day is needed")
    for before, after in pairwise(days):
        if after.date - before.date != timedelta(days=1):
            raise ValueError(f"{after.date} does not follow {before.date}")
    for entry in days:
        if entry.low_c > entry.high_c:
            raise ValueError(f"{entry.date}: the low, {entry.low_c} °C, is above the high, {entry.high_c} °C")


def _midnight(day: date, zone: ZoneInfo) -> datetime:
    return datetime.combine(day, time(), tzinfo=zone).astimezone(UTC)


def _air_temp(
    days: Sequence[DayEntry], midnights: Sequence[datetime], latitude_deg: float, longitude_deg: float
) -> Callable[[datetime], float]:
    suns = [
        [
            (sun - midnight).total_seconds() / 3600.0
            for sun in sunrise_sunset(day.date, latitude_deg, longitude_deg)
        ]
        for day, midnight in zip(days, midnights, strict=True)
    ]

    def air_temp_c(moment: datetime) -> float:
        index = len(days) - 1
        while index >= 0:
            hour = (moment - midnights[index]).total_seconds() / 3600.0
            if hour >= suns[index][0] + _LAG_LOW_H:
                break
            index -= 1
        else:  # before the first low: the evening before is taken as that of the first day
            index, hour = 0, hour + 24.0
            return air_temp_by_day_c(hour, days[0].low_c, days[0].high_c, days[0].low_c, *suns[0])
        next_low = days[min(index + 1, len(days) - 1)].low_c
        return air_temp_by_day_c(hour, days[index].low_c, days[index].high_c, next_low, *suns[index])

    return air_temp_c


def _vapour(
    days: Sequence[DayEntry], midnights: Sequence[datetime], air_temp_c: Callable[[datetime], float]
) -> Callable[[datetime], float]:
    """Vapour pressure [kPa] whose daily mean humidity is the one given, drawn straight from noon to noon."""
    levels = []
    for entry, midnight in zip(days, midnights, strict=True):
        inverse = [
            1.0 / saturation_vapour_pressure_kpa(air_temp_c(midnight + timedelta(hours=h))) for h in range(24)
        ]
        levels.append(entry.rh * 24.0 / sum(inverse))

    def vapour_kpa(moment: datetime) -> float:
        position = (moment - midnights[0]).total_seconds() / 86_400.0 - 0.5
        position = min(max(position, 0.0), len(levels) - 1.0)
        index = min(int(position), len(levels) - 2) if len(levels) > 1 else 0
        following = levels[min(index + 1, len(levels) - 1)]
        return levels[index] + (following - levels[index]) * (position - index)

    return vapour_kpa
