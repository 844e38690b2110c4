"""Read our own hourly JSON: the `weather` object of the timeline contract, alone or inside a pour."""

import json
from dataclasses import replace
from datetime import UTC, date, datetime, timedelta

from slabtide.engine.fields import Fields, Problem
from slabtide.engine.pour import WeatherHour
from slabtide.weather.contract import HourlySeries, WeatherError

LONGEST_HOURS = 24 * 40
_KEYS = ("at", "air_temp_c", "rh", "wind_kmh", "wind_height_m", "cloud", "solar_w_m2", "rain_mm")
_HOUR = timedelta(hours=1)


def read_hourly(text: str, name: str, onto: date | None = None) -> HourlySeries:
    """The hours in `text`: `{"hourly": [...]}`, or a whole pour with a `weather` object inside.

    `onto` shifts the whole series by whole days so that its first hour falls on that date.
    Raises: WeatherError with every path that is wrong and what is allowed there.
    """
    try:
        data = json.loads(text)
    except ValueError as error:
        raise WeatherError(f"{name} is not JSON: {error}.") from error
    if isinstance(data, dict) and "weather" in data:
        data = data["weather"]
    problems: list[Problem] = []
    fields = Fields(data, "weather", problems, ("hourly",))
    hours = fields.items("hourly", 2, LONGEST_HOURS, lambda item, path: _hour(item, path, problems))
    if not problems:
        _in_order(hours, problems)
    if problems:
        raise WeatherError("\n".join(str(problem) for problem in problems))
    return HourlySeries(_shifted(hours, onto), "file", name)


def _hour(data: object, path: str, problems: list[Problem]) -> WeatherHour:
    f = Fields(data, path, problems, _KEYS)
    return WeatherHour(
        at=f.time("at") or datetime(1990, 1, 1, tzinfo=UTC),
        air_temp_c=f.number("air_temp_c", -40, 55, "°C"),
        rh=f.number("rh", 0, 1, ""),
        wind_kmh=f.number("wind_kmh", 0, 200, "km/h"),
        wind_height_m=f.number("wind_height_m", 0.3, 100, "m", default=10.0),
        cloud=f.number("cloud", 0, 1, "", default=0.0),
        solar_w_m2=f.number("solar_w_m2", 0, 1400, "W/m2", default=0.0),
        rain_mm=f.number("rain_mm", 0, 300, "mm", default=0.0),
    )


def _in_order(hours: tuple[WeatherHour, ...], problems: list[Problem]) -> None:
    for index in range(1, len(hours)):
        if hours[index].at - hours[index - 1].at != _HOUR:
            path = f"weather.hourly[{index}].at"
            allowed = "one hour after the entry before it"
            problems.append(Problem(path, f"{hours[index].at.isoformat()} is not {allowed}", allowed))
            return


def _shifted(hours: tuple[WeatherHour, ...], onto: date | None) -> tuple[WeatherHour, ...]:
    """The hours in UTC, moved by whole days so that the first one's own date becomes `onto`."""
    days = timedelta() if onto is None else onto - hours[0].at.date()
    return tuple(replace(hour, at=(hour.at + days).astimezone(UTC)) for hour in hours)
