"""Of many server processes one asks about a place; one that dies holds it up for two minutes, no longer."""

import subprocess
import sys
import threading
import time
import uuid
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from sqlalchemy import delete, select
from tests.conftest import config_in
from tests.store.conftest import HERE as POSTGRESQL_HERE
from tests.store.conftest import postgresql_url
from tests.weather.sources.service import Answer, ForecastService, grid, silent, united_states

from slabtide.app import create_app
from slabtide.config import config_of
from slabtide.log.instants import write_instant
from slabtide.office import forecast_turns
from slabtide.office.forecast_round import Forecasts
from slabtide.office.forecast_rows import Wanted
from slabtide.people.companies import create_company
from slabtide.store import database, migrated
from slabtide.store.session import read, write
from slabtide.store.tables import ForecastCache, ForecastTurn, JobForecast, JobMark, WeatherHour
from slabtide.weather.sources.contract import Place
from slabtide.weather.sources.united_states import UnitedStates
from slabtide.weather.sources.web import Web

__all__ = ["postgresql_url"]
NOW = datetime(2026, 7, 14, 15, 30, tzinfo=UTC)
SECOND, MINUTE = timedelta(seconds=1), timedelta(minutes=1)
PROCESSES, PLACES = 4, 6
DATABASES = ["sqlite", *(["postgresql"] if POSTGRESQL_HERE else [])]


@dataclass
class Servers:
    """Several server processes' worth of applications on one database, and the service they ask."""

    apps: list[Flask]
    service: ForecastService
    company: str

    def forecasts(self, number: int, timeout_s: float = 5.0) -> Forecasts:
        web = Web("Slabtide/test (mailto:office@slab.test)", [self.service.address], timeout_s)
        return Forecasts(self.apps[number], web, (UnitedStates(web, self.service.address),))

    def jobs_at(self, count: int) -> None:
        """Open jobs poured today, each at a place of its own."""
        with self.apps[0].app_context(), write() as session:
            for number in range(count):
                state = {"pour_at": write_instant(NOW), "latitude_deg": 36.0 + number, "longitude_deg": -80.0}
                mark = {"company_id": self.company, "job": str(uuid.uuid4()), "dirty": False, "version": 1}
                session.add(JobMark(**mark, state=state))

    def rows(self, table: Any) -> list[Any]:
        with self.apps[0].app_context(), read() as session:
            return list(session.scalars(select(table)))


@pytest.fixture(params=DATABASES)
def servers(request: pytest.FixtureRequest, home: Path) -> Iterator[Servers]:
    url = (
        request.getfixturevalue("postgresql_url")
        if request.param == "postgresql"
        else f"sqlite:///{home / 'slabtide.db'}"
    )
    made = [create_app(config_in(home, database_url=url), check_database=False) for _ in range(PROCESSES)]
    migrated.upgrade(made[0])
    with made[0].app_context():
        company = create_company("Harbor Flatwork")
        with write() as session:
            for table in (JobMark, ForecastCache, ForecastTurn, JobForecast, WeatherHour):
                session.execute(delete(table))
    service = ForecastService(slowly(united_states(lambda: grid(NOW.replace(minute=0), 48))))
    yield Servers(made, service, company)
    service.close()
    for app in made:
        database.dispose(app)


def slowly(answer: Answer) -> Answer:
    """Slow enough that the others come by while one asks."""

    def told(asked: Any) -> None:
        time.sleep(0.05)
        answer(asked)

    return told


def side_by_side(servers: Servers, now: datetime = NOW) -> list[int]:
    """Every process goes its round at once; how many places each asked about."""
    rounds = [servers.forecasts(number) for number in range(PROCESSES)]
    ready, asked, mistakes = threading.Barrier(PROCESSES), [0] * PROCESSES, []

    def go(number: int) -> None:
        ready.wait()
        try:
            asked[number] = rounds[number].round(now).asked
        except Exception as mistake:  # noqa: BLE001  (shown by the test's own thread)
            mistakes.append(mistake)

    threads = [threading.Thread(target=go, args=(number,)) for number in range(PROCESSES)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert mistakes == []
    return asked


def grids_asked(servers: Servers) -> int:
    return sum("/gridpoints/" in path for path in servers.service.paths)


def test_each_place_is_asked_about_once_however_many_processes_go_round(servers: Servers) -> None:
    servers.jobs_at(PLACES)
    assert sum(side_by_side(servers)) == PLACES
    assert grids_asked(servers) == PLACES
    assert len(servers.rows(ForecastCache)) == len(servers.rows(JobForecast)) == PLACES
    assert sum(side_by_side(servers, NOW + MINUTE)) == 0, "what is fresh is not asked for again"
    assert sum(side_by_side(servers, NOW + 61 * MINUTE)) == PLACES
    assert grids_asked(servers) == 2 * PLACES


def test_a_process_killed_while_it_asks_holds_its_place_up_for_two_minutes(servers: Servers) -> None:
    servers.jobs_at(1)
    well, servers.service.answer = servers.service.answer, silent
    config = config_of(servers.apps[0])
    words = [str(config.home), config.database_url, servers.service.address, NOW.isoformat()]
    doomed = subprocess.Popen([sys.executable, "-m", "tests.office.asking", *words])
    ends = time.monotonic() + 20
    while not servers.service.seen and time.monotonic() < ends:
        time.sleep(0.02)
    doomed.kill()
    doomed.wait(10)
    assert len(servers.service.seen) == 1
    servers.service.answer = well
    assert servers.forecasts(1).round(NOW + 90 * SECOND).asked == 0, "its turn still runs"
    later = servers.forecasts(1).round(NOW + forecast_turns.LASTS + 10 * SECOND)
    assert (later.asked, later.changed_jobs) == (1, 1)


def test_another_process_that_is_alive_gives_its_turn_back_with_the_answer(servers: Servers) -> None:
    servers.jobs_at(1)
    config = config_of(servers.apps[0])
    words = [str(config.home), config.database_url, servers.service.address, NOW.isoformat()]
    done = subprocess.run(
        [sys.executable, "-m", "tests.office.asking", *words], capture_output=True, text=True, check=True
    )
    assert done.stdout.split() == ["1", "1"]
    assert servers.forecasts(1).round(NOW + SECOND).asked == 0
    assert servers.forecasts(1).round(NOW + 61 * MINUTE).asked == 1


def test_an_answer_that_comes_after_its_turn_was_taken_over_is_let_go(servers: Servers) -> None:
    servers.jobs_at(1)
    late = servers.forecasts(0)

    def overtaken(asked: Any) -> None:
        if "/gridpoints/" in asked.path:
            with servers.apps[1].app_context(), write() as session:
                place = Wanted(servers.company, Place.near(36.0, -80.0), ())
                assert not forecast_turns.take(session, place, "other", NOW + MINUTE)
                assert forecast_turns.take(session, place, "other", NOW + forecast_turns.LASTS + MINUTE)
        united_states(lambda: grid(NOW.replace(minute=0), 48))(asked)

    servers.service.answer = overtaken
    assert late.round(NOW).changed_jobs == 0
    assert servers.rows(WeatherHour) == []
    assert servers.rows(ForecastTurn)[0].holder == "other"


def test_a_round_that_fails_to_keep_its_answer_leaves_the_place_to_the_next(
    servers: Servers, monkeypatch: pytest.MonkeyPatch
) -> None:
    servers.jobs_at(1)

    def broken(*args: Any) -> list[str]:
        raise RuntimeError("the disk is full")

    with monkeypatch.context() as patched:
        patched.setattr("slabtide.office.forecast_rows.keep", broken)
        with pytest.raises(RuntimeError, match="disk"):
            servers.forecasts(0).round(NOW)
    assert servers.forecasts(1).round(NOW + 3 * MINUTE).changed_jobs == 1
