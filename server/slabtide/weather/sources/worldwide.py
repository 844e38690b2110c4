"""An open forecast with worldwide cover: one JSON answer, a list of values for each quantity.

Source of the form: the documentation of the open API. Air, humidity, wind and cloud are readings at the time
named; radiation is the mean and precipitation the sum of the hour that ends then.
"""

import math
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import urlencode

from slabtide.weather.sources import units
from slabtide.weather.sources.contract import (
    LONGEST_AHEAD,
    LONGEST_BACK,
    Forecast,
    Marks,
    Place,
    SourceError,
    Unchanged,
)
from slabtide.weather.sources.layers import Layer, Layers, hours_of
from slabtide.weather.sources.reading import part, read_object
from slabtide.weather.sources.units import Quantity
from slabtide.weather.sources.web import Web

DAYS_BACK, DAYS_AHEAD = 2, 10
MOST_HOURS = 24 * 32
_NAMES = {
    "temperature_2m": units.AIR,
    "relative_humidity_2m": units.HUMIDITY,
    "wind_speed_10m": units.WIND,
    "cloud_cover": units.CLOUD,
    "shortwave_radiation": units.SUN,
    "precipitation": units.RAIN,
}
_HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class Worldwide:
    """Covers the whole earth, and the last two days besides."""

    web: Web
    address: str
    name: str = "world"
    label: str = "Worldwide open forecast"

    def fetch(self, place: Place, marks: Marks, now: datetime) -> Forecast | Unchanged:
        """The place's forecast. Raises: SourceError."""
        asked = {
            "latitude": f"{place.latitude_deg:.2f}",
            "longitude": f"{place.longitude_deg:.2f}",
            "hourly": ",".join(_NAMES),
            "past_days": DAYS_BACK,
            "forecast_days": DAYS_AHEAD,
            "timeformat": "unixtime",
            "timezone": "GMT",
        }
        answer = self.web.get(f"{self.address}?{urlencode(asked, safe=',')}", marks)
        if answer.status == 304:
            return Unchanged(answer.good_for(now))
        if answer.status == 404:
            raise SourceError("answered with an error (404)")
        hours, derived = hours_of(read_layers(read_object(answer.body), now), place)
        return Forecast(hours, self.label, now, answer.marks, answer.good_for(now), derived)


def read_layers(found: dict[str, Any], now: datetime) -> Layers:
    """The layers, in our units. Raises: SourceError."""
    if found.get("error"):
        raise SourceError("refused the question")
    hourly, given = part(found, "hourly"), part(found, "hourly_units")
    times = _times(hourly.get("time"), found.get("utc_offset_seconds", 0))
    near = {at for at in times if now - LONGEST_BACK <= at <= now + LONGEST_AHEAD}
    read = {name: _layer(hourly, given, name, times, near) for name in _NAMES}
    return Layers(
        air_temp_c=read["temperature_2m"],
        rh=read["relative_humidity_2m"],
        wind_kmh=read["wind_speed_10m"],
        cloud=read["cloud_cover"],
        rain_mm={at - _HOUR: value for at, value in read["precipitation"].items()},
        solar_w_m2=_at_the_hour(read["shortwave_radiation"]),
    )


def _times(values: object, offset_s: object) -> list[datetime]:
    """The times, UTC: seconds since 1970, or local ISO text `offset_s` ahead of UTC."""
    if not isinstance(values, list) or not 0 < len(values) <= MOST_HOURS:
        raise SourceError("answered without times")
    try:
        if all(isinstance(value, int) and not isinstance(value, bool) for value in values):
            return [datetime.fromtimestamp(value, UTC) for value in values]
        ahead = timedelta(seconds=float(offset_s))  # type: ignore[arg-type]
        return [datetime.fromisoformat(value).replace(tzinfo=UTC) - ahead for value in values]
    except (TypeError, ValueError, OverflowError, OSError) as error:
        raise SourceError("gives a time that can't be read") from error


def _layer(
    hourly: dict[str, Any], given: dict[str, Any], name: str, times: list[datetime], near: set[datetime]
) -> dict[datetime, float]:
    values, quantity = hourly.get(name), _NAMES[name]
    if values is None:
        return {}
    if not isinstance(values, list) or len(values) != len(times):
        raise SourceError(f"gives {quantity.name} in a form that can't be read")
    turn = quantity.turn(given.get(name))
    return {
        _whole(at): quantity.checked(turn(_number(value, quantity)))
        for at, value in zip(times, values, strict=True)
        if value is not None and at in near
    }


def _at_the_hour(means: Layer) -> Layer:
    """Sun at each whole hour: the mean of the hour before it and the hour after it."""
    return {at: (mean + means.get(at + _HOUR, mean)) / 2 for at, mean in means.items()}


def _number(value: object, quantity: Quantity) -> float:
    if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
        raise SourceError(f"gives {quantity.name} that is no number")
    return float(value)


def _whole(at: datetime) -> datetime:
    if at.minute or at.second:
        raise SourceError("gives times that are not on whole hours")
    return at
