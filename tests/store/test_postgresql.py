"""The same product on PostgreSQL: schema, log, and a cursor that misses nothing under many writers."""

from __future__ import annotations

import random
import threading
import time
import uuid
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask_migrate import check
from sqlalchemy import select, text
from tests.conftest import Joined, Syncs, config_in

from slabtide.app import create_app
from slabtide.engine.pour import WeatherHour
from slabtide.office.forecast_rows import Wanted, keep
from slabtide.office.stored_weather import stored_hours
from slabtide.people.companies import create_company
from slabtide.people.joining import Enrolled, join_person
from slabtide.reminders import calendar_feeds
from slabtide.store import database, migrated
from slabtide.store.session import read, write
from slabtide.store.tables import Company
from slabtide.weather.sources.chain import Chosen, Standing
from slabtide.weather.sources.contract import Forecast, Marks, Place

WRITERS, SECONDS = 8, 4.0


@pytest.fixture(scope="module")
def pg(postgresql_url: str, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Flask]:
    """An application on a migrated PostgreSQL database."""
    home: Path = tmp_path_factory.mktemp("pg")
    app = create_app(config_in(home, database_url=postgresql_url), check_database=False)
    migrated.upgrade(app)
    migrated.require(app)
    yield app
    database.dispose(app)


def joined(app: Flask, company: str, role: str) -> Joined:
    with app.app_context():
        made: Enrolled = join_person(company, f"{role} {uuid.uuid4().hex[:4]}", role, device_name="phone")
    return Joined(made.token, made.device_id, made.person_id, made.person_name, role, company)


@pytest.fixture
def company(pg: Flask) -> str:
    with pg.app_context():
        return create_company("Harbor Flatwork")


def test_migrations_and_models_agree(pg: Flask) -> None:
    with pg.app_context():
        check()


def test_a_moment_and_a_body_read_back_as_they_were_written(pg: Flask, company: str) -> None:
    sync, ana, luis = Syncs(pg.test_client()), joined(pg, company, "foreman"), joined(pg, company, "crew")
    sent = sync.event(ana, str(uuid.uuid4()), "note.written", {"text": 'Ünï "quoted" \\ 😀'})
    assert sync(ana, sent, unsent=3, oldest_unsent_at=sent["at"])["accepted"] == [sent["id"]]
    assert sync(ana, sent)["accepted"] == [sent["id"]]
    [got] = sync(luis)["events"]
    assert {name: got[name] for name in sent} == sent
    with pg.app_context(), read() as session:
        made = session.scalars(select(Company).where(Company.company_id == company)).one()
    assert made.created_at.tzinfo is not None


def test_a_forecast_and_a_calendar_are_kept_and_kept_again(pg: Flask, company: str) -> None:
    now = datetime(2026, 7, 14, 12, tzinfo=UTC)
    job = str(uuid.uuid4())
    wanted = Wanted(company, Place.near(36.1, -79.95), (job,))
    for air_c in (20.0, 25.0):
        hours = tuple(WeatherHour(now + timedelta(hours=i), air_c, 0.5, 5.0) for i in range(3))
        forecast = Forecast(hours, "Grid", now, Marks("1"), timedelta(hours=1))
        stand = {"us": Standing(Marks("1"), now, 0, None, True, "Grid", now)}
        with pg.app_context(), write() as session:
            assert keep(session, wanted, Chosen(stand, forecast, True, "Grid", now), now) == [job]
        with pg.app_context(), read() as session:
            found = stored_hours(session, company, job, now, now + timedelta(hours=5))
        assert found is not None
        assert ([hour.air_temp_c for hour in found.hours], found.source) == ([air_c] * 3, "forecast")
    who = joined(pg, company, "crew")
    with pg.app_context():
        for _ in range(2):
            secret = calendar_feeds.make(company, who.person, now)
        calendar_feeds.count(calendar_feeds.find(secret), now)


def follow(pg: Flask, company: str, stop: threading.Event, seen: list[str]) -> None:
    """A phone that only reads, from before the first event to after the last."""
    sync, phone = Syncs(pg.test_client()), joined(pg, company, "office")
    while True:
        last = stop.is_set()
        seen += [event["id"] for event in sync(phone)["events"]]
        if last:
            return


def test_a_reader_misses_nothing_while_eight_phones_push(pg: Flask, company: str) -> None:
    sent: list[str] = []
    seen: list[str] = []
    stop = threading.Event()
    reader = threading.Thread(target=follow, args=(pg, company, stop, seen))
    until = time.monotonic() + SECONDS

    def push(seed: int) -> None:
        chance, sync, who = random.Random(seed), Syncs(pg.test_client()), joined(pg, company, "crew")
        job = str(uuid.uuid4())
        while time.monotonic() < until:
            batch = [sync.event(who, job, "note.written", {"text": "x"}) for _ in range(chance.randint(1, 9))]
            sent.extend(sync(who, *batch)["accepted"])

    writers = [threading.Thread(target=push, args=(seed,)) for seed in range(WRITERS)]
    reader.start()
    for writer in writers:
        writer.start()
    for writer in writers:
        writer.join()
    stop.set()
    reader.join()
    assert len(sent) > 100
    assert len(seen) == len(set(seen))
    assert set(seen) == set(sent)


def test_the_same_trial_catches_a_plain_sequence_missing_rows(pg: Flask) -> None:
    """The control: were numbers given without the lock, a reader like ours would miss rows."""
    with pg.app_context(), write() as session:
        session.execute(text("CREATE TABLE naive (seq bigserial PRIMARY KEY)"))
    until = time.monotonic() + SECONDS / 2
    seen: set[int] = set()

    def push(seed: int) -> None:
        chance = random.Random(seed)
        while time.monotonic() < until:
            with pg.app_context(), write() as session:
                session.execute(text("INSERT INTO naive DEFAULT VALUES"))
                time.sleep(chance.uniform(0.002, 0.01))

    def poll(cursor: int = 0) -> None:
        while any(writer.is_alive() for writer in writers) or not seen:
            with pg.app_context(), read() as session:
                found: list[Any] = list(session.scalars(text(f"SELECT seq FROM naive WHERE seq > {cursor}")))
            seen.update(found)
            cursor = max([cursor, *found])

    writers = [threading.Thread(target=push, args=(seed,)) for seed in range(WRITERS)]
    for writer in writers:
        writer.start()
    poll()
    with pg.app_context(), read() as session:
        assert len(seen) < session.scalar(text("SELECT count(*) FROM naive"))
