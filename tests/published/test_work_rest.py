"""Rest in the heat beside the chart it is taken from: NIOSH Publication 2017-127, normal clothing."""

from datetime import UTC, datetime, timedelta

import pytest

from slabtide.engine.crew_heat import crew_hours, work_minutes
from slabtide.engine.heat_index import heat_index_c
from slabtide.engine.pour import WeatherHour

# Adjusted temperature [°F]: minutes of moderate and of heavy work.
CHART_F = {
    90: (60, 60), 94: (60, 60), 95: (60, 45), 96: (60, 45), 97: (60, 40), 98: (60, 35), 99: (60, 35),
    100: (45, 30), 101: (40, 30), 102: (35, 25), 103: (30, 20), 104: (30, 20), 105: (25, 15), 106: (20, 0),
    107: (15, 0), 108: (0, 0), 112: (0, 0),
}  # fmt: skip
HUMIDITY = [(0.05, -8), (0.10, -8), (0.20, -4), (0.40, 3), (0.50, 6), (0.60, 9), (0.90, 9)]
SUN = [(0.30, 800, 13), (0.30, 200, 7), (0.30, 50, 0), (0.50, 800, 19)]


def celsius(fahrenheit: float) -> float:
    return (fahrenheit - 32.0) / 1.8


@pytest.mark.parametrize(("air_f", "minutes"), CHART_F.items())
def test_the_chart_is_read_row_by_row_where_nothing_is_adjusted(air_f: int, minutes: tuple[int, int]) -> None:
    air_temp_c = celsius(air_f)
    assert (
        work_minutes(air_temp_c, 0.30, 0.0, "moderate"),
        work_minutes(air_temp_c, 0.30, 0.0, "heavy"),
    ) == minutes


@pytest.mark.parametrize(
    ("rh", "solar_w_m2", "added_f"), [*((rh, 0, added_f) for rh, added_f in HUMIDITY), *SUN]
)
def test_sun_and_humidity_move_the_row(rh: float, solar_w_m2: float, added_f: float) -> None:
    """The sheet's adjustments, from memory, not verified."""
    assert work_minutes(celsius(102.0 - added_f), rh, solar_w_m2, "heavy") == 25


def test_more_humidity_never_lets_the_crew_work_longer() -> None:
    minutes = [work_minutes(33.0, percent / 100, 600.0, "moderate") for percent in range(101)]
    assert minutes == sorted(minutes, reverse=True)
    assert len(set(minutes)) > 3


def test_hours_without_any_sun_given_count_as_full_sun() -> None:
    noon = datetime(2026, 7, 14, 17, tzinfo=UTC)
    hours = [WeatherHour(noon + timedelta(hours=k), celsius(84), 0.5, 8.0, solar_w_m2=0.0) for k in range(3)]
    given = [*hours[:2], WeatherHour(noon + timedelta(hours=2), celsius(84), 0.5, 8.0, solar_w_m2=5.0)]
    assert [(hour.moderate_min, hour.heavy_min) for hour in crew_hours(hours)] == [(30, 20)] * 3
    assert crew_hours(given)[0].heavy_min == 60
    assert crew_hours(hours)[0].feels_c == heat_index_c(celsius(84), 0.5)
