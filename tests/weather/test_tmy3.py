"""A typical year is read as its published manual says: hour-ending, standard time, m/s."""

import statistics
from datetime import UTC, date, datetime, timedelta
from importlib.resources import files

import pytest

from slabtide.engine.diurnal import DayEntry
from slabtide.weather.contract import WeatherError
from slabtide.weather.hand import HandEntry
from slabtide.weather.tmy3 import looks_like_tmy3, read_tmy3


@pytest.fixture(scope="module")
def greensboro() -> str:
    """The TMY3 file of station 723170 that the pvlib package carries."""
    return (files("pvlib") / "data" / "723170TYA.CSV").read_text()


def test_month_day_and_hour_are_kept_and_the_year_is_replaced(greensboro: str) -> None:
    _, series = read_tmy3(greensboro, date(2026, 7, 3), days=2)
    at_seven = next(hour for hour in series.hours if hour.at == datetime(2026, 7, 3, 12, tzinfo=UTC))
    assert (at_seven.air_temp_c, at_seven.rh, at_seven.cloud) == (20.0, 0.93, 1.0)
    assert at_seven.wind_kmh == pytest.approx(2.6 * 3.6)
    assert at_seven.wind_height_m == 10.0


def test_sun_at_an_hour_is_the_mean_of_the_hours_that_meet_there(greensboro: str) -> None:
    _, series = read_tmy3(greensboro, date(2026, 7, 3), days=1)
    by_hour = {hour.at.hour: hour for hour in series.hours[:24]}
    rows = [line.split(",") for line in greensboro.splitlines() if line.startswith("07/03/")]
    ghi = {int(row[1][:2]): float(row[4]) for row in rows}
    assert by_hour[18].solar_w_m2 == (ghi[13] + ghi[14]) / 2


def test_hours_follow_one_another_without_gap_over_the_turn_of_the_year(greensboro: str) -> None:
    _, series = read_tmy3(greensboro, date(2026, 12, 30), days=4)
    steps = {b.at - a.at for a, b in zip(series.hours, series.hours[1:], strict=False)}
    assert steps == {timedelta(hours=1)}
    assert series.hours[-1].at == datetime(2027, 1, 3, 5, tzinfo=UTC)


def test_the_29th_of_february_takes_the_28th(greensboro: str) -> None:
    _, series = read_tmy3(greensboro, date(2028, 2, 28), days=2)
    assert series.hours[36].air_temp_c == series.hours[12].air_temp_c


def test_another_part_of_the_year_can_be_laid_onto_a_date(greensboro: str) -> None:
    _, july = read_tmy3(greensboro, date(2026, 7, 14), days=1)
    _, moved = read_tmy3(greensboro, date(2026, 11, 25), days=1, like=(7, 14))
    assert [h.air_temp_c for h in moved.hours] == [h.air_temp_c for h in july.hours]
    assert moved.hours[0].at == datetime(2026, 11, 25, 5, tzinfo=UTC)


def test_the_station_names_the_source(greensboro: str) -> None:
    station, series = read_tmy3(greensboro, date(2026, 7, 14))
    assert (station.utc_offset_h, station.latitude_deg, station.longitude_deg) == (-5.0, 36.1, -79.95)
    assert series.label == "Greensboro Piedmont Triad Int, typical year (TMY3)"
    assert series.source == "file"


def test_a_missing_value_is_refused_with_its_line(greensboro: str) -> None:
    lines = greensboro.splitlines()
    cells = lines[4000].split(",")
    cells[31] = "-9900"
    text = "\n".join([*lines[:4000], ",".join(cells), *lines[4001:]])
    with pytest.raises(WeatherError, match=r"Line 4001 can't be read: Dry-bulb \(C\) is missing"):
        read_tmy3(text, date(2026, 7, 14))


def test_another_kind_of_file_is_refused_with_what_a_right_one_holds() -> None:
    assert not looks_like_tmy3("a,b\n1,2\n")
    with pytest.raises(WeatherError, match="second line must name"):
        read_tmy3("a,b\n1,2\n", date(2026, 7, 14))


def test_a_day_from_its_low_and_high_stays_near_the_readings(greensboro: str) -> None:
    """Mean absolute error of the diurnal curve, April to October at this station: 1.17 °C was computed
    for the published parameters (Parton and Logan 1981; its own range is 1.20 to 2.64 °C)."""
    station, series = read_tmy3(greensboro, date(2026, 4, 1), days=214)
    zone = "Etc/GMT+5"
    by_day: dict[date, list[float]] = {}
    for hour in series.hours[:-1]:
        by_day.setdefault((hour.at - timedelta(hours=5)).date(), []).append(hour.air_temp_c)
    days = tuple(DayEntry(day, min(t), max(t), 0.7, 10, 0.3) for day, t in by_day.items())
    entry = HandEntry(days, station.latitude_deg, station.longitude_deg, zone)
    drawn = entry.hourly(series.hours[0].at, series.hours[-1].at)
    assert drawn is not None
    read = {hour.at: hour.air_temp_c for hour in series.hours}
    error = statistics.fmean(abs(hour.air_temp_c - read[hour.at]) for hour in drawn.hours)
    print(f"mean absolute error, April to October: {error:.2f} °C")
    assert 1.0 < error < 1.3
