"""Hand entry first, the file for the rest, readings over both; a gap names the day to enter."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta
from typing import Any

from slabtide.engine.pour import WeatherHour
from slabtide.log.envelope import Event
from slabtide.log.fold import fold
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.weather.assemble import Assembled, weather_for
from slabtide.weather.contract import HourlySeries

HOUR = timedelta(hours=1)
START = datetime(2026, 7, 14, 11, 20, tzinfo=UTC)  # a Tuesday
OPENED = {
    "name": "Patio",
    "latitude_deg": 36.1,
    "longitude_deg": -79.95,
    "time_zone": "America/New_York",
    "use": "patio",
}
DAY = {"low_c": 18, "high_c": 29, "rh": 0.6, "wind_kmh": 9, "cloud": 0.2}


def job(*said: tuple[str, dict[str, Any], str]) -> JobView:
    lines = [("job.opened", OPENED, "2026-07-13T12:00:00.000Z"), *said]
    events = [
        Event(f"e{i}", "j", kind, body, at, f"{i:015d}-0000-d", "d", "ana")
        for i, (kind, body, at) in enumerate(lines)
    ]
    return view_job(fold(events, "j"))


def planned(*days: str) -> tuple[str, dict[str, Any], str]:
    return "weather.planned", {"days": [{"date": day, **DAY} for day in days]}, "2026-07-13T12:05:00.000Z"


def noted(at: str, **read: float) -> tuple[str, dict[str, Any], str]:
    return "weather.noted", dict(read), at


def file_hours(first: datetime, count: int) -> HourlySeries:
    hours = tuple(WeatherHour(first + i * HOUR, 99.0, 0.5, 5.0) for i in range(count))
    return HourlySeries(hours, "file", "Station A")


def assemble(view: JobView, stored: HourlySeries | None = None, hours: int = 120) -> Assembled:
    return weather_for(view, stored, START, START + hours * HOUR)


def test_days_entered_by_hand_win_and_the_file_fills_the_rest() -> None:
    stored = file_hours(datetime(2026, 7, 13, tzinfo=UTC), 24 * 10)
    found = assemble(job(planned("2026-07-14")), stored)
    by_time = {hour.at: hour.air_temp_c for hour in found.hours}
    assert by_time[datetime(2026, 7, 15, 3, tzinfo=UTC)] < 30
    assert by_time[datetime(2026, 7, 15, 4, tzinfo=UTC)] == 99.0, "local midnight opens the file's day"
    assert (found.source, found.label) == ("hand", "Entered by hand for Jul 14; Station A")
    assert found.as_of == datetime(2026, 7, 13, 12, 5, tzinfo=UTC)
    assert found.problem is None


def test_hours_begin_on_the_whole_hour_and_never_skip() -> None:
    found = assemble(job(), file_hours(datetime(2026, 7, 13, tzinfo=UTC), 24 * 10))
    assert found.hours[0].at == found.covers_from == datetime(2026, 7, 14, 11, tzinfo=UTC)
    assert {b.at - a.at for a, b in zip(found.hours, found.hours[1:], strict=False)} == {HOUR}
    assert found.covers_to == datetime(2026, 7, 19, 12, tzinfo=UTC)


def test_hours_stop_at_the_first_gap() -> None:
    stored = file_hours(datetime(2026, 7, 13, tzinfo=UTC), 24 * 10)
    holed = replace(stored, hours=stored.hours[:40] + stored.hours[41:])
    assert assemble(job(), holed).covers_to == stored.hours[39].at


def test_no_weather_names_the_day_of_the_pour() -> None:
    found = assemble(job())
    assert (found.source, found.hours, found.covers_from) == ("none", (), None)
    assert found.problem is not None
    assert found.problem.as_json() == {
        "code": "weather_missing",
        "message": "There is no weather for Tuesday, July 14.",
        "do": "Enter low and high for Tuesday.",
        "params": {"day": "2026-07-14"},
    }


def test_weather_that_ends_within_two_days_names_the_next_day() -> None:
    found = assemble(job(planned("2026-07-14")))
    assert found.problem is not None
    assert (found.problem.code, found.problem.do) == ("weather_short", "Enter low and high for Wednesday.")
    assert len(found.hours) == 18


def test_two_days_of_weather_are_enough_to_begin() -> None:
    assert assemble(job(planned("2026-07-14", "2026-07-15", "2026-07-16"))).problem is None


def test_readings_correct_whatever_the_source_and_are_counted() -> None:
    view = job(
        planned("2026-07-14", "2026-07-15"),
        noted("2026-07-14T14:00:00.000Z", air_temp_c=35.0),
        noted("2026-07-14T15:00:00.000Z", rh=0.3),
        noted("2026-07-01T15:00:00.000Z", rh=0.3),
    )
    found = assemble(view)
    by_time = {hour.at: hour for hour in found.hours}
    assert round(by_time[datetime(2026, 7, 14, 14, tzinfo=UTC)].air_temp_c, 6) == 35.0
    assert (found.readings, found.noted) == (2, datetime(2026, 7, 14, 15, tzinfo=UTC))


def test_a_forecast_is_named_as_such_with_its_age_and_gives_way_to_hand_entry() -> None:
    issued = datetime(2026, 7, 14, 9, tzinfo=UTC)
    hours = file_hours(datetime(2026, 7, 13, tzinfo=UTC), 24 * 10).hours
    forecast = HourlySeries(hours, "forecast", "Grid forecast", issued)
    found = assemble(job(), forecast)
    assert (found.source, found.label, found.as_of) == ("forecast", "Grid forecast", issued)
    both = assemble(job(planned("2026-07-14")), forecast)
    assert (both.source, both.label) == ("hand", "Entered by hand for Jul 14; Grid forecast")


def test_rain_noted_at_the_slab_wets_the_next_hour() -> None:
    stored = file_hours(datetime(2026, 7, 13, tzinfo=UTC), 24 * 10)
    found = assemble(job(noted("2026-07-14T15:10:00.000Z", raining=True)), stored)
    assert [hour.at.hour for hour in found.hours if hour.rain_mm] == [15, 16]
