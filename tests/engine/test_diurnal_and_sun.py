"""Hourly weather from a day's low and high."""

from datetime import UTC, date, timedelta
from itertools import pairwise

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabtide.engine.diurnal import DayEntry, hourly_from_day, hourly_series
from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.sun import clear_sky_w_m2, clouded_w_m2, sunrise_sunset

JULY = date(2026, 7, 14)


def days(count: int, low: float = 18.0, high: float = 31.0, rh: float = 0.65) -> list[DayEntry]:
    return [DayEntry(JULY + timedelta(days=i), low, high, rh, 9.0, 0.3) for i in range(count)]


def test_a_series_runs_from_midnight_to_midnight_by_the_hour() -> None:
    series = hourly_series(days(3), 39.0, -77.0, "America/New_York")
    assert len(series) == 73
    assert series[0].at.isoformat() == "2026-07-14T00:00:00-04:00"
    assert series[-1].at.isoformat() == "2026-07-17T00:00:00-04:00"
    assert all(b.at - a.at == timedelta(hours=1) for a, b in pairwise(series))


def test_the_low_comes_at_sunrise_and_the_high_in_the_afternoon() -> None:
    series = hourly_series(days(2), 39.0, -77.0, "America/New_York")[:25]
    coolest = min(series, key=lambda hour: hour.air_temp_c)
    warmest = max(series, key=lambda hour: hour.air_temp_c)
    assert coolest.at.hour in (5, 6)
    assert warmest.at.hour in (14, 15, 16)
    assert coolest.air_temp_c == pytest.approx(18.0, abs=1.0)
    assert warmest.air_temp_c == pytest.approx(31.0, abs=0.3)


def test_humidity_falls_as_air_warms_and_keeps_the_days_mean() -> None:
    series = hourly_series(days(1), 39.0, -77.0, "America/New_York")[:24]
    vapour = [hour.rh * saturation_vapour_pressure_kpa(hour.air_temp_c) for hour in series]
    assert max(vapour) - min(vapour) < 1e-9
    assert sum(hour.rh for hour in series) / 24 == pytest.approx(0.65, abs=1e-9)
    assert series[6].rh > 0.8 > 0.5 > series[15].rh


def test_a_day_with_the_clock_change_has_its_own_number_of_hours() -> None:
    spring = [DayEntry(date(2026, 3, 8), 2.0, 12.0, 0.6, 10.0, 0.5)]
    autumn = [DayEntry(date(2026, 11, 1), 2.0, 12.0, 0.6, 10.0, 0.5)]
    assert len(hourly_series(spring, 39.0, -77.0, "America/New_York")) == 24
    assert len(hourly_series(autumn, 39.0, -77.0, "America/New_York")) == 26


def test_days_that_do_not_follow_or_turn_over_are_refused() -> None:
    gap = [days(1)[0], DayEntry(JULY + timedelta(days=2), 10.0, 20.0, 0.5, 5.0, 0.0)]
    with pytest.raises(ValueError, match="does not follow"):
        hourly_series(gap, 39.0, -77.0, "America/New_York")
    with pytest.raises(ValueError, match="above the high"):
        hourly_series(days(1, low=25.0, high=20.0), 39.0, -77.0, "America/New_York")
    with pytest.raises(ValueError, match="at least one day"):
        hourly_series([], 39.0, -77.0, "America/New_York")


entries = st.lists(
    st.builds(
        lambda low, rise, rh, wind, cloud: (low, low + rise, rh, wind, cloud),
        st.floats(-20, 35),
        st.floats(0, 20),
        st.floats(0, 1),
        st.floats(0, 60),
        st.floats(0, 1),
    ),
    min_size=1,
    max_size=5,
)


@settings(deadline=None, max_examples=40)
@given(entries, st.floats(-60, 68), st.sampled_from(["America/Chicago", "Europe/Rome", "Australia/Sydney"]))
def test_every_hour_stays_within_what_was_told(
    told: list[tuple[float, float, float, float, float]], latitude: float, zone: str
) -> None:
    listed = [DayEntry(JULY + timedelta(days=i), *entry) for i, entry in enumerate(told)]
    series = hourly_series(listed, latitude, 10.0, zone)
    low, high = min(d.low_c for d in listed), max(d.high_c for d in listed)
    assert all(low - 1e-9 <= hour.air_temp_c <= high + 1e-9 for hour in series)
    assert all(0.0 <= hour.rh <= 1.0 for hour in series)
    assert all(0.0 <= hour.solar_w_m2 < 1100.0 for hour in series)


def test_the_sun_never_rises_in_the_polar_night() -> None:
    up, down = sunrise_sunset(date(2026, 12, 21), 80.0, 0.0)
    assert up == down
    up, down = sunrise_sunset(date(2026, 6, 21), 80.0, 0.0)
    assert down - up == timedelta(days=1)
    assert up.tzinfo is UTC


def test_clouds_take_sun_and_night_has_none() -> None:
    assert clear_sky_w_m2(-0.2) == 0.0
    left = [clouded_w_m2(800.0, cloud) for cloud in (0.0, 0.3, 0.6, 1.0)]
    assert left == sorted(left, reverse=True)
    assert left[0] == 800.0


def test_a_day_alone_begins_and_ends_alike() -> None:
    temps = hourly_from_day(15.0, 30.0, 15.0, 6.0, 18.5)
    assert len(temps) == 25
    assert temps[0] == pytest.approx(temps[24])
