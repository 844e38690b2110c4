"""What was measured at the slab counts there and then, and fades over three hours."""

import math
from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.engine.pour import WeatherHour
from slabtide.weather.readings import HAND_HEIGHT_M, RAIN_SEEN_MM, Reading, corrected

START = datetime(2026, 7, 14, 12, tzinfo=UTC)
HOUR = timedelta(hours=1)


def flat(count: int = 25) -> list[WeatherHour]:
    return [WeatherHour(START + i * HOUR, 20.0, 0.6, 10.0, 10.0, 0.5, 400.0) for i in range(count)]


def test_a_reading_moves_its_hour_to_what_was_read() -> None:
    hours = corrected(flat(), [Reading(START + 5 * HOUR, air_temp_c=26.0)])
    assert hours[5].air_temp_c == pytest.approx(26.0)


def test_the_correction_decays_by_e_in_three_hours_both_ways() -> None:
    hours = corrected(flat(), [Reading(START + 10 * HOUR, air_temp_c=26.0)])
    assert hours[13].air_temp_c == pytest.approx(20 + 6 / math.e)
    assert hours[7].air_temp_c == pytest.approx(20 + 6 / math.e)
    assert hours[22].air_temp_c == pytest.approx(20 + 6 * math.exp(-4))


def test_the_series_passes_through_every_reading() -> None:
    hours = corrected(
        flat(), [Reading(START + 8 * HOUR, air_temp_c=25.0), Reading(START + 6 * HOUR, air_temp_c=22.0)]
    )
    assert hours[6].air_temp_c == pytest.approx(22.0)
    assert hours[8].air_temp_c == pytest.approx(25.0)


def test_a_reading_between_hours_is_held_against_the_line_between_them() -> None:
    hours = flat()
    hours[6] = WeatherHour(START + 6 * HOUR, 24.0, 0.6, 10.0)
    same = corrected(hours, [Reading(START + 5.5 * HOUR, air_temp_c=22.0)])
    assert [h.air_temp_c for h in same] == pytest.approx([h.air_temp_c for h in hours])


def test_a_hand_held_wind_is_brought_to_the_height_of_the_series() -> None:
    hours = corrected(flat(), [Reading(START, wind_kmh=8.0)])
    assert HAND_HEIGHT_M == 2.0
    assert hours[0].wind_kmh == pytest.approx(8.0 * math.log(10 / 0.03) / math.log(2 / 0.03))


def test_sun_follows_the_cloud_that_was_seen() -> None:
    hours = corrected(flat(), [Reading(START, cloud=1.0)])
    assert hours[0].cloud == 1.0
    assert hours[0].solar_w_m2 == pytest.approx(400 * 0.25 / (1 - 0.75 * 0.5**3.4))


def test_a_reading_outside_the_series_and_an_empty_one_change_nothing() -> None:
    far = Reading(START - HOUR, air_temp_c=40.0)
    assert corrected(flat(), [far, Reading(START)]) == tuple(flat())
    assert corrected([], [far]) == ()


@given(
    st.lists(
        st.builds(
            Reading,
            st.integers(0, 24 * 60).map(lambda minutes: START + timedelta(minutes=minutes)),
            st.floats(-30, 50),
            st.floats(0, 1),
            st.floats(0, 120),
            st.floats(0, 1),
        ),
        max_size=6,
        unique_by=lambda reading: reading.at,
    )
)
def test_no_reading_drives_the_weather_out_of_its_bounds(readings: list[Reading]) -> None:
    for hour in corrected(flat(), readings):
        assert 0 <= hour.rh <= 1
        assert 0 <= hour.cloud <= 1
        assert hour.wind_kmh >= 0
        assert 0 <= hour.solar_w_m2 <= 1400
        assert -31 <= hour.air_temp_c <= 51


def test_rain_that_was_seen_falls_in_the_next_hour_and_no_other() -> None:
    hours = corrected(flat(), [Reading(START + 5 * HOUR + timedelta(minutes=20), raining=True)])
    assert [index for index, hour in enumerate(hours) if hour.rain_mm] == [5, 6]
    assert (hours[5].rain_mm, hours[5].air_temp_c) == (RAIN_SEEN_MM, 20.0)


def test_heavier_rain_in_the_series_stays_and_a_dry_look_takes_it_away() -> None:
    wet = [replace(hour, rain_mm=4.0) for hour in flat()]
    assert corrected(wet, [Reading(START + 5 * HOUR, raining=True)])[5].rain_mm == 4.0
    dry = corrected(wet, [Reading(START + 5 * HOUR, raining=False)])
    assert [hour.rain_mm for hour in dry[4:7]] == [4.0, 0.0, 4.0]


def test_the_later_look_at_the_rain_has_its_say() -> None:
    looks = [(0, True), (30, False)]
    readings = [Reading(START + 5 * HOUR + timedelta(minutes=m), raining=wet) for m, wet in looks]
    assert [hour.rain_mm for hour in corrected(flat(), readings)[5:7]] == [0.0, 0.0]
