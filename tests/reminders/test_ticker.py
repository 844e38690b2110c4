"""The ticker only ticks: it outlives a failing tick, never runs two at once, and stops when told."""

import threading
import time
from datetime import datetime
from typing import Any

import pytest
from flask import Flask
from tests.conftest import config_in
from tests.weather.sources.service import ForecastService, silent

from slabtide.app import create_app
from slabtide.office import forecast_rows
from slabtide.office.forecast_rows import Wanted
from slabtide.reminders import ticker, worker
from slabtide.store import database
from slabtide.weather.sources.contract import Place

REPORT = worker.TickReport(0, 0, 0, 0)


@pytest.fixture
def quick(home: Any) -> Any:
    app = create_app(config_in(home, tick_seconds=0.1))
    yield app
    database.dispose(app)


def test_ticks_come_one_at_a_time_survive_a_failure_and_end(
    quick: Flask, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    began: list[datetime] = []
    at_once = [0]
    running = threading.Lock()

    def tick(app: Flask, now: datetime, wait_s: float) -> worker.TickReport:
        if not running.acquire(blocking=False):
            at_once[0] += 1
            return worker.TickReport(0, 0, 0, 0)
        try:
            began.append(now)
            time.sleep(0.25)
            if len(began) == 2:
                raise RuntimeError("this tick tripped")
            return worker.TickReport(1, 0, 0, 0)
        finally:
            running.release()

    monkeypatch.setattr(worker, "tick", tick)
    ticking = ticker.Ticker(quick)
    ticking.start()
    time.sleep(1.4)
    ticking.stop()
    count = len(began)
    assert count >= 3
    assert at_once == [0]
    assert "this tick tripped" in caplog.text
    assert began[0].utcoffset() is not None
    time.sleep(0.3)
    assert len(began) == count


def test_a_real_tick_on_an_empty_database_does_nothing(
    quick: Flask, caplog: pytest.LogCaptureFixture
) -> None:
    ticking = ticker.Ticker(quick)
    ticking.start()
    time.sleep(0.4)
    ticking.stop()
    assert "a tick failed" not in caplog.text


def test_forecasts_go_round_beside_the_ticks_and_end_with_them(
    home: Any, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    service = ForecastService(silent)
    app = create_app(config_in(home, tick_seconds=0.1, forecast_us_url=service.address))
    place = Wanted("7f0c1b9e-0000-4000-8000-000000000001", Place.near(36.1, -79.95), ())
    monkeypatch.setattr(forecast_rows, "wanted_places", lambda session, now: [place])
    ticks: list[datetime] = []
    monkeypatch.setattr(worker, "tick", lambda app, now, wait_s: ticks.append(now) or REPORT)
    ticking = ticker.Ticker(app)
    ticking.start()
    time.sleep(0.8)
    asked_of, ticked, began = len(service.seen), len(ticks), time.monotonic()
    ticking.stop()
    assert time.monotonic() - began < 2.0, "a source that hangs does not hold up the end"
    assert asked_of == 1
    assert ticked >= 4, "nor does it hold up the ticks"
    assert "a round of forecasts failed" not in caplog.text
    service.close()
    database.dispose(app)
