"""Weather hours as a phone is sent them: a row of numbers for each quantity, None for a missing hour."""

from collections.abc import Iterator, Mapping
from datetime import datetime, timedelta
from typing import Any

from slabtide.engine.pour import WeatherHour
from slabtide.log.instants import read_instant, write_instant
from slabtide.weather.contract import HourlySeries

QUANTITIES = ("air_temp_c", "rh", "wind_kmh", "wind_height_m", "cloud", "solar_w_m2", "rain_mm")
_HOUR = timedelta(hours=1)


def pack(series: HourlySeries | None) -> dict[str, Any] | None:
    """JSON-ready: {"source", "label", "as_of", "from", and each of QUANTITIES as a list by the hour}; None
    without hours.

    Numbers stand as they are, so that whoever unpacks them computes with the same ones.
    """
    if series is None or not series.hours:
        return None
    by_time = {hour.at: hour for hour in series.hours}
    first, last = series.hours[0].at, series.hours[-1].at
    every = [by_time.get(first + index * _HOUR) for index in range((last - first) // _HOUR + 1)]
    rows = {name: [None if hour is None else getattr(hour, name) for hour in every] for name in QUANTITIES}
    return {
        "source": series.source,
        "label": series.label,
        "as_of": series.as_of and write_instant(series.as_of),
        "from": write_instant(first),
        **rows,
    }


def unpack(packed: Mapping[str, Any] | None, start: datetime, end: datetime) -> HourlySeries | None:
    """The packed hours from `start` to `end`, or None when none of them fall there."""
    if packed is None:
        return None
    hours = tuple(hour for hour in _hours(packed) if start <= hour.at <= end)
    if not hours:
        return None
    as_of = packed.get("as_of")  # hours a phone has kept from an older server name neither age nor source
    since = read_instant(as_of) if as_of else None
    return HourlySeries(hours, packed.get("source", "file"), packed["label"], since)


def _hours(packed: Mapping[str, Any]) -> Iterator[WeatherHour]:
    at = read_instant(packed["from"])
    for values in zip(*(packed[name] for name in QUANTITIES), strict=True):
        if None not in values:
            yield WeatherHour(at, *map(float, values))
        at += _HOUR
