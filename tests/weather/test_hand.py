"""Days entered by hand become hours, gaps stay gaps, and switch days keep their true length."""

import itertools
from datetime import UTC, date, datetime, timedelta

import pytest

from slabtide.engine.diurnal import DayEntry
from slabtide.weather.contract import WeatherError
from slabtide.weather.hand import HandEntry

HOUR = timedelta(hours=1)


def entry(*days: str, zone: str = "America/New_York", low_c: float = 15.0) -> HandEntry:
    made = tuple(DayEntry(date.fromisoformat(day), low_c, 28.0, 0.6, 10.0, 0.3) for day in days)
    return HandEntry(made, 36.1, -79.95, zone)


def hours_of(made: HandEntry, first: str, last: str) -> list[datetime]:
    series = made.hourly(
        datetime.fromisoformat(first).replace(tzinfo=UTC), datetime.fromisoformat(last).replace(tzinfo=UTC)
    )
    return [hour.at for hour in series.hours] if series else []


def test_a_day_covers_its_local_midnight_to_midnight() -> None:
    found = hours_of(entry("2026-07-14"), "2026-07-10", "2026-07-20")
    assert (found[0], found[-1]) == (
        datetime(2026, 7, 14, 4, tzinfo=UTC),
        datetime(2026, 7, 15, 4, tzinfo=UTC),
    )


def test_a_missing_day_leaves_a_gap() -> None:
    found = hours_of(entry("2026-07-14", "2026-07-16"), "2026-07-10", "2026-07-20")
    assert datetime(2026, 7, 15, 12, tzinfo=UTC) not in found
    assert datetime(2026, 7, 16, 12, tzinfo=UTC) in found


def test_only_the_hours_asked_for_are_given_and_none_means_none() -> None:
    assert len(hours_of(entry("2026-07-14"), "2026-07-14T12:00", "2026-07-14T15:00")) == 4
    assert hours_of(entry("2026-07-14"), "2026-08-01", "2026-08-02") == []


@pytest.mark.parametrize(("day", "length"), [("2026-03-08", 23), ("2026-11-01", 25), ("2026-07-14", 24)])
def test_a_switch_day_has_its_true_number_of_hours(day: str, length: int) -> None:
    found = hours_of(entry(day), "2026-01-01", "2026-12-31")
    assert len(found) == length + 1
    assert {b - a for a, b in itertools.pairwise(found)} == {HOUR}


def test_a_zone_half_an_hour_off_still_comes_on_whole_utc_hours() -> None:
    found = hours_of(entry("2026-07-14", zone="America/St_Johns"), "2026-07-10", "2026-07-20")
    assert {(at.minute, at.second) for at in found} == {(0, 0)}
    assert len(found) == 24


def test_the_high_is_reached_and_the_low_nearly() -> None:
    """The published night curve ends a ninth of its drop above the low (exp(-2.2), Parton and Logan 1981)."""
    series = entry("2026-07-14").hourly(datetime(2026, 7, 14, tzinfo=UTC), datetime(2026, 7, 16, tzinfo=UTC))
    assert series is not None
    temps = [hour.air_temp_c for hour in series.hours]
    assert 15.0 <= min(temps) < 16.0
    assert 27.5 < max(temps) <= 28.0


def test_a_low_above_its_high_is_refused_in_words() -> None:
    with pytest.raises(WeatherError, match="is above the high"):
        hours_of(entry("2026-07-14", low_c=30.0), "2026-07-10", "2026-07-20")
