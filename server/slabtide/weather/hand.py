"""Weather from what a person wrote down: a low, a high, humidity, wind and cloud for each day."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise
from zoneinfo import ZoneInfo

from slabtide.engine.diurnal import DayEntry, hourly_series
from slabtide.engine.pour import WeatherHour
from slabtide.weather.contract import HourlySeries, WeatherError

_HOUR = timedelta(hours=1)


@dataclass(frozen=True, slots=True)
class HandEntry:
    """Days entered by hand, turned to hours by the diurnal curve; gaps between days stay gaps.

    `latitude_deg`, `longitude_deg` say when the sun rises there; `time_zone` (IANA) where a day begins.
    """

    days: tuple[DayEntry, ...]
    latitude_deg: float
    longitude_deg: float
    time_zone: str
    label: str = field(default="Entered by hand")

    def hourly(self, start: datetime, end: datetime) -> HourlySeries | None:
        """Hours from `start` to `end` on whole UTC hours, or None when no entered day falls there.

        Raises: WeatherError when a day's low is above its high.
        """
        hours = [hour for run in _runs(self.days) for hour in self._run_hours(run) if start <= hour.at <= end]
        return HourlySeries(tuple(hours), "hand", self.label) if hours else None

    def _run_hours(self, run: Sequence[DayEntry]) -> Iterator[WeatherHour]:
        try:
            series = hourly_series(run, self.latitude_deg, self.longitude_deg, self.time_zone)
        except ValueError as error:
            raise WeatherError(str(error)) from error
        return on_whole_hours(series)

    def covers(self, at: datetime) -> bool:
        """Whether the local day of `at` was entered."""
        return at.astimezone(ZoneInfo(self.time_zone)).date() in {day.date for day in self.days}


def _runs(days: Sequence[DayEntry]) -> Iterator[list[DayEntry]]:
    """Days in order, split where one is missing; of a day entered twice the later entry counts."""
    run: list[DayEntry] = []
    for day in sorted({day.date: day for day in days}.values(), key=lambda entry: entry.date):
        if run and day.date - run[-1].date != timedelta(days=1):
            yield run
            run = []
        run.append(day)
    if run:
        yield run


def on_whole_hours(series: Sequence[WeatherHour]) -> Iterator[WeatherHour]:
    """The series in UTC on whole hours; zones half an hour off are read between their own hours."""
    minutes = series[0].at.astimezone(UTC).minute
    if minutes == 0:
        yield from (replace(hour, at=hour.at.astimezone(UTC)) for hour in series)
        return
    for before, after in pairwise(series):
        at = before.at.astimezone(UTC).replace(minute=0) + _HOUR
        yield _between(before, after, at, (60 - minutes) / 60)


def _between(a: WeatherHour, b: WeatherHour, at: datetime, part: float) -> WeatherHour:
    def mix(low: float, high: float) -> float:
        return (1 - part) * low + part * high

    return WeatherHour(
        at,
        mix(a.air_temp_c, b.air_temp_c),
        mix(a.rh, b.rh),
        mix(a.wind_kmh, b.wind_kmh),
        a.wind_height_m,
        mix(a.cloud, b.cloud),
        mix(a.solar_w_m2, b.solar_w_m2),
        a.rain_mm,
    )
