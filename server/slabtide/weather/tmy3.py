"""Read a TMY3 file: a typical year of hourly weather, as published for a thousand stations.

Source of the format: S. Wilcox and W. Marion, Users Manual for TMY3 Data Sets, NREL/TP-581-43156
(2008), section 2: times are local standard time without daylight saving and name the end of the hour;
radiation is the hour's mean, temperature, humidity and wind are readings at the time named; wind stands
at 10 m; -9900 and below mean that a value is missing.
"""

import csv
from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta

from slabtide.engine.pour import WeatherHour
from slabtide.weather.contract import HourlySeries, WeatherError

DATE, TIME, GHI, CLOUD, AIR, HUMIDITY, WIND = (
    "Date (MM/DD/YYYY)",
    "Time (HH:MM)",
    "GHI (W/m^2)",
    "TotCld (tenths)",
    "Dry-bulb (C)",
    "RHum (%)",
    "Wspd (m/s)",
)
RAIN, RAIN_HOURS = "Lprecip depth (mm)", "Lprecip quantity (hr)"
_NEEDED = (DATE, TIME, GHI, CLOUD, AIR, HUMIDITY, WIND)
_MISSING = -900.0


@dataclass(frozen=True, slots=True)
class Station:
    """Where the readings were taken: name, hours from UTC (standard time), degrees."""

    name: str
    utc_offset_h: float
    latitude_deg: float
    longitude_deg: float


@dataclass(frozen=True, slots=True)
class _Row:
    """One line: the month, day and hour that its hour ends at, and the values read."""

    month: int
    day: int
    hour: int
    ghi_w_m2: float
    cloud: float
    air_temp_c: float
    rh: float
    wind_kmh: float
    rain_mm: float


def looks_like_tmy3(text: str) -> bool:
    """Whether the second line carries the headers of a TMY3 file."""
    lines = text.splitlines()[:2]
    return len(lines) == 2 and all(name in lines[1] for name in _NEEDED)


def read_tmy3(
    text: str, onto: date, days: int = 14, like: tuple[int, int] | None = None
) -> tuple[Station, HourlySeries]:
    """Hours of a TMY3 file laid onto `onto` and the days after it, month, day and hour kept.

    The file's own years are dropped (its months come from different ones); 29 February takes the 28th.
    `like` = (month, day) lays that part of the typical year onto `onto` instead.
    Solar at a whole hour is the mean of the hour before and the hour after it [W/m2]; wind is turned
    from m/s to km/h at 10 m.
    Raises: WeatherError when the text is not TMY3, when a value is missing or can't be read.
    """
    if not looks_like_tmy3(text):
        raise WeatherError("This is not a TMY3 file. Its second line must name: " + ", ".join(_NEEDED) + ".")
    if not 1 <= days <= 366:
        raise WeatherError(f"{days} days asked of a typical year; give 1 to 366.")
    lines = text.splitlines()
    station = _station(next(csv.reader(lines[:1])))
    rows = {(row.month, row.day, row.hour): row for row in _rows(lines[1:])}
    first = date(2000, *like) if like else onto
    hours = tuple(_hours(rows, station, onto, first, days))
    label = f"{station.name}, typical year (TMY3)"
    return station, HourlySeries(hours, "file", label)


def _station(cells: list[str]) -> Station:
    try:
        return Station(cells[1].strip().title(), float(cells[3]), float(cells[4]), float(cells[5]))
    except (IndexError, ValueError) as error:
        raise WeatherError(
            "Line 1 must hold: station number, name, state, hours from UTC, latitude, longitude, elevation."
        ) from error


def _rows(lines: list[str]) -> Iterator[_Row]:
    for number, cells in enumerate(csv.DictReader(lines), start=3):
        try:
            yield _row(cells)
        except (KeyError, TypeError, ValueError) as error:
            raise WeatherError(f"Line {number} can't be read: {error}.") from error


def _row(cells: Mapping[str, str]) -> _Row:
    month, day, _year = (int(part) for part in cells[DATE].split("/"))
    return _Row(
        month=month,
        day=day,
        hour=int(cells[TIME].split(":")[0]),
        ghi_w_m2=_value(cells, GHI),
        cloud=_value(cells, CLOUD) / 10,
        air_temp_c=_value(cells, AIR),
        rh=min(1.0, _value(cells, HUMIDITY) / 100),
        wind_kmh=_value(cells, WIND) * 3.6,
        rain_mm=_rain(cells),
    )


def _value(cells: Mapping[str, str], name: str) -> float:
    value = float(cells[name])
    if value <= _MISSING:
        raise ValueError(f"{name} is missing")
    return value


def _rain(cells: Mapping[str, str]) -> float:
    """Rain in the hour [mm]; the file sums it over several hours, and often holds none at all."""
    depth, hours = float(cells.get(RAIN) or 0), float(cells.get(RAIN_HOURS) or 0)
    return depth / hours if depth > 0 and hours > 0 else 0.0


def _hours(
    rows: Mapping[tuple[int, int, int], _Row], station: Station, onto: date, first: date, days: int
) -> Iterator[WeatherHour]:
    start = datetime(onto.year, onto.month, onto.day, tzinfo=UTC) - timedelta(hours=station.utc_offset_h)
    for index in range(days * 24 + 1):
        row, after = _ending(rows, first, index), _ending(rows, first, index + 1)
        yield WeatherHour(
            at=start + timedelta(hours=index),
            air_temp_c=row.air_temp_c,
            rh=row.rh,
            wind_kmh=round(row.wind_kmh, 2),
            wind_height_m=10.0,
            cloud=row.cloud,
            solar_w_m2=(row.ghi_w_m2 + after.ghi_w_m2) / 2,
            rain_mm=after.rain_mm,
        )


def _ending(rows: Mapping[tuple[int, int, int], _Row], first: date, index: int) -> _Row:
    """The row whose hour ends `index` hours after midnight of `first`."""
    day, hour = divmod(index - 1, 24)
    at = first + timedelta(days=day)
    key = (2, 28) if (at.month, at.day) == (2, 29) else (at.month, at.day)
    found = rows.get((*key, hour + 1))
    if found is None:
        raise WeatherError(f"The file holds no hour {hour + 1:02d}:00 on {key[0]:02d}/{key[1]:02d}.")
    return found
