"""Our own hourly JSON is read strictly, and shifted by whole days."""

import json
from datetime import UTC, date, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from slabtide.engine.contract import ContractError, read_pour
from slabtide.weather.contract import WeatherError
from slabtide.weather.hourly_file import read_hourly

SAMPLE = Path(__file__).parents[1] / "engine" / "samples" / "two_loads.json"


def hours(count: int = 3, **changed: Any) -> list[dict[str, Any]]:
    start = datetime.fromisoformat("2026-06-04T00:00:00-05:00")
    plain = {"air_temp_c": 18, "rh": 0.65, "wind_kmh": 12}
    return [{"at": (start + i * timedelta(hours=1)).isoformat(), **plain, **changed} for i in range(count)]


def test_a_weather_object_gives_its_hours_in_utc() -> None:
    series = read_hourly(json.dumps({"hourly": hours()}), "yard.json")
    assert [hour.at for hour in series.hours] == [datetime(2026, 6, 4, 5 + i, tzinfo=UTC) for i in range(3)]
    assert (series.source, series.label) == ("file", "yard.json")
    assert (series.hours[0].wind_height_m, series.hours[0].cloud) == (10.0, 0.0)


def test_the_weather_of_a_whole_pour_is_read_like_the_engine_reads_it() -> None:
    text = SAMPLE.read_text()
    ours = read_hourly(text, "pour").hours
    engines = read_pour(json.loads(text)).weather.hourly
    assert [(h.at, h.air_temp_c, h.rh, h.solar_w_m2) for h in ours] == [
        (h.at, h.air_temp_c, h.rh, h.solar_w_m2) for h in engines
    ]


def test_a_shift_moves_whole_days_and_keeps_the_hour() -> None:
    series = read_hourly(json.dumps({"hourly": hours()}), "yard.json", onto=date(2026, 11, 25))
    assert series.hours[0].at == datetime(2026, 11, 25, 5, tzinfo=UTC)


@pytest.mark.parametrize(
    ("field", "value"),
    [("air_temp_c", 56), ("rh", 1.1), ("wind_kmh", -1), ("cloud", 2), ("solar_w_m2", 1500), ("rain_mm", -1)],
)
def test_what_the_engine_would_refuse_is_refused_here_with_its_path(field: str, value: float) -> None:
    with pytest.raises(WeatherError, match=rf"weather\.hourly\[0\]\.{field}: "):
        read_hourly(json.dumps({"hourly": hours(**{field: value})}), "yard.json")
    pour = json.loads(SAMPLE.read_text())
    pour["weather"]["hourly"][0][field] = value
    with pytest.raises(ContractError, match=field):
        read_pour(pour)


def test_unknown_keys_gaps_and_other_files_are_refused() -> None:
    with pytest.raises(WeatherError, match="unknown key"):
        read_hourly(json.dumps({"hourly": hours(colour="blue")}), "yard.json")
    gap = hours(4)
    del gap[1]
    with pytest.raises(WeatherError, match="is not one hour after"):
        read_hourly(json.dumps({"hourly": gap}), "yard.json")
    with pytest.raises(WeatherError, match=r"yard\.csv is not JSON"):
        read_hourly("a,b", "yard.csv")
