"""The grid forecast of the United States National Weather Service, as its API publishes it.

Source of the form: the service's own description of its API (points, gridpoints: layers of values with a
`validTime` as an ISO 8601 interval and a unit code of the World Meteorological Organization). A point is
looked up once; the answer names the grid cell, whose address is built here and not taken from the answer.
"""

import re
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.weather.sources import units
from slabtide.weather.sources.contract import Forecast, Marks, Place, SourceError, Unchanged
from slabtide.weather.sources.intervals import held, spread
from slabtide.weather.sources.layers import Layer, Layers, hours_of
from slabtide.weather.sources.reading import part, read_object
from slabtide.weather.sources.web import Web

_OFFICE = re.compile(r"[A-Z]{3}")
_GRID = re.compile(r"[A-Z]{3}/\d{1,4},\d{1,4}")
_MOST_CELLS = 10_000


@dataclass(frozen=True, slots=True)
class UnitedStates:
    """Covers the United States and their territories; has no sun, which is worked out."""

    web: Web
    address: str
    name: str = "us"
    label: str = "U.S. National Weather Service"

    def fetch(self, place: Place, marks: Marks, now: datetime) -> Forecast | Unchanged:
        """The grid cell's forecast. A cell that is gone is looked up again. Raises: SourceError."""
        known = marks.grid if marks.grid and _GRID.fullmatch(marks.grid) else None
        grid = known or self._look_up(place)
        answer = self.web.get(
            f"{self.address}/gridpoints/{grid}", replace(marks, grid=None) if known else Marks()
        )
        if answer.status == 404 and known:
            return self.fetch(place, Marks(), now)
        if answer.status == 404:
            raise SourceError("has no forecast for its own grid cell")
        if answer.status == 304:
            return Unchanged(answer.good_for(now))
        layers = part(read_object(answer.body), "properties")
        hours, derived = hours_of(read_layers(layers, now), place)
        return Forecast(
            hours=hours,
            label=self.label,
            issued_at=_issued(layers.get("updateTime"), now),
            marks=replace(answer.marks, grid=grid),
            good_for=answer.good_for(now),
            derived=derived,
        )

    def _look_up(self, place: Place) -> str:
        """The grid cell of a place, as `ABC/12,34`."""
        latitude, longitude = (
            f"{value:.2f}".rstrip("0").rstrip(".") for value in (place.latitude_deg, place.longitude_deg)
        )
        answer = self.web.get(f"{self.address}/points/{latitude},{longitude}")
        if answer.status == 404:
            raise SourceError("does not cover this place", outside=True)
        found = part(read_object(answer.body), "properties")
        office, x, y = found.get("gridId"), found.get("gridX"), found.get("gridY")
        if not (isinstance(office, str) and _OFFICE.fullmatch(office) and _is_cell(x) and _is_cell(y)):
            raise SourceError("answered without a grid cell")
        return f"{office}/{x},{y}"


def read_layers(found: dict[str, Any], now: datetime) -> Layers:
    """The layers we use, in our units. Raises: SourceError."""
    air = held(part(found, "temperature"), units.AIR, now)
    return Layers(
        air_temp_c=air,
        rh=_humidity(found, air, now),
        wind_kmh=held(part(found, "windSpeed"), units.WIND, now),
        cloud=held(found["skyCover"], units.CLOUD, now) if _has(found, "skyCover") else {},
        rain_mm=spread(found["quantitativePrecipitation"], units.RAIN, now)
        if _has(found, "quantitativePrecipitation")
        else {},
    )


def _humidity(found: dict[str, Any], air: Layer, now: datetime) -> Layer:
    """Relative humidity as given, or from the dew point."""
    if _has(found, "relativeHumidity"):
        return held(found["relativeHumidity"], units.HUMIDITY, now)
    dew = held(part(found, "dewpoint"), units.DEW_POINT, now)
    return {
        at: min(1.0, saturation_vapour_pressure_kpa(value) / saturation_vapour_pressure_kpa(air[at]))
        for at, value in dew.items()
        if at in air
    }


def _has(found: dict[str, Any], name: str) -> bool:
    layer = found.get(name)
    return isinstance(layer, dict) and bool(layer.get("values"))


def _is_cell(value: object) -> bool:
    return isinstance(value, int) and not isinstance(value, bool) and 0 <= value < _MOST_CELLS


def _issued(text: object, now: datetime) -> datetime | None:
    try:
        moment = datetime.fromisoformat(text) if isinstance(text, str) else None
    except ValueError:
        return None
    return min(moment.astimezone(UTC), now) if moment and moment.tzinfo else None
