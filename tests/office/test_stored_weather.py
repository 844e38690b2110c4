"""A loaded weather file takes the place of the one before, whole, and the job is looked at again."""

import json
from datetime import UTC, date, datetime, timedelta

import pytest
from flask import Flask
from tests.office.scene import typical_year

from slabtide.office.stored_weather import keep_hours, load_file, read_file, stored_hours
from slabtide.store.jobs import due_jobs
from slabtide.store.session import read, write
from slabtide.weather.contract import HourlySeries, WeatherError

NOW = datetime(2026, 7, 14, 12, tzinfo=UTC)
FIRST, LAST = NOW - timedelta(days=60), NOW + timedelta(days=60)


def stored(app: Flask, company: str, job: str) -> HourlySeries | None:
    with app.app_context(), read() as session:
        return stored_hours(session, company, job, FIRST, LAST)


def test_hours_read_back_as_they_were_loaded(app: Flask, company: str, job: str) -> None:
    with app.app_context(), write() as session:
        series = load_file(session, company, job, typical_year(), "x.csv", date(2026, 7, 13), NOW)
        assert [mark.job for mark in due_jobs(session, NOW)] == [job]
    found = stored(app, company, job)
    assert found is not None
    assert (found.hours, found.label, found.source) == (series.hours, series.label, "file")
    assert found.as_of == NOW, "a file is as old as its loading"


def test_another_file_replaces_all_hours(app: Flask, company: str, job: str) -> None:
    start = datetime(2026, 7, 14, tzinfo=UTC)
    hourly = [
        {"at": (start + i * timedelta(hours=1)).isoformat(), "air_temp_c": 20, "rh": 0.5, "wind_kmh": 5}
        for i in range(30)
    ]
    with app.app_context(), write() as session:
        load_file(session, company, job, typical_year(), "x.csv", date(2026, 7, 1), NOW)
        load_file(session, company, job, json.dumps({"hourly": hourly}), "yard.json", None, NOW)
    found = stored(app, company, job)
    assert found is not None
    assert (len(found.hours), found.label) == (30, "yard.json")


def test_a_file_that_cant_be_read_changes_nothing(app: Flask, company: str, job: str) -> None:
    with app.app_context(), write() as session:
        load_file(session, company, job, typical_year(), "x.csv", date(2026, 7, 13), NOW)
    before = stored(app, company, job)
    with pytest.raises(WeatherError), app.app_context(), write() as session:
        load_file(session, company, job, '{"hourly": []}', "bad.json", None, NOW)
    assert stored(app, company, job) == before


def test_a_typical_year_needs_a_date_to_lie_on() -> None:
    with pytest.raises(WeatherError, match="say the date to lay it onto"):
        read_file(typical_year(), "x.csv", None)


def test_one_jobs_hours_are_no_other_jobs(app: Flask, company: str, job: str) -> None:
    series = read_file(typical_year(), "x.csv", date(2026, 7, 13))
    with app.app_context(), write() as session:
        keep_hours(session, company, job, series)
    assert stored(app, company, "another") is None
    assert stored(app, "elsewhere", job) is None
