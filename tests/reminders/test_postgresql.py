"""The same outbox on PostgreSQL: many workers at once, each row in one pair of hands."""

import threading
import uuid
from collections import Counter
from collections.abc import Iterator
from datetime import timedelta
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import select
from tests.conftest import Joined, config_in
from tests.reminders.conftest import OPENS, Scene
from tests.reminders.push_service import PushService
from tests.store.conftest import HERE, postgresql_url

from slabtide.app import create_app
from slabtide.config import config_of
from slabtide.people.companies import create_company
from slabtide.people.joining import join_person
from slabtide.reminders import outbox, worker
from slabtide.reminders.keys import make_key
from slabtide.reminders.push import Outcome
from slabtide.reminders.upsert import ripen
from slabtide.store import database, migrated
from slabtide.store.session import read, write
from slabtide.store.tables import Delivery

__all__ = ["postgresql_url"]
assert HERE
WORKERS, PHONES, JOBS = 6, 4, 40


@pytest.fixture
def scene(
    postgresql_url: str, tmp_path_factory: pytest.TempPathFactory, service: PushService
) -> Iterator[Scene]:
    home: Path = tmp_path_factory.mktemp("pg")
    app = create_app(config_in(home, database_url=postgresql_url), check_database=False)
    migrated.upgrade(app)
    make_key(config_of(app).vapid_key_file)
    with app.app_context():
        company = create_company("Harbor Flatwork")
    yield Scene(app, app.test_client(), company, service)
    worker.close(app)
    database.dispose(app)


def foreman(scene: Scene, phone: str) -> None:
    with scene.app.app_context():
        made = join_person(scene.company, f"foreman {phone}", "foreman", device_name=phone)
    who = Joined(made.token, made.device_id, made.person_id, made.person_name, "foreman", scene.company)
    scene.subscribe(who, phone)


def drain(app: Flask, name: str, held: list[tuple[str, str]], mistakes: list[Exception]) -> None:
    """What a worker does, claim by claim, until nothing is left."""
    try:
        with app.app_context():
            while True:
                with write() as session:
                    claims = outbox.claim(session, OPENS, name, 7)
                if not claims:
                    return
                held += [(one.reminder_id, one.subscription_id) for one in claims]
                with write() as session:
                    for one in claims:
                        outbox.mark(session, one, Outcome("sent", 201), OPENS)
    except Exception as mistake:  # noqa: BLE001  (shown by the test's own thread)
        mistakes.append(mistake)


def test_a_day_runs_the_same_as_on_sqlite(scene: Scene) -> None:
    foreman(scene, "lead")
    scene.derive(OPENS - timedelta(hours=2))
    for minutes in range(-120, 320, 20):
        scene.tick(OPENS + timedelta(minutes=minutes))
    assert scene.stages_sent("lead") == ["coming up", "open now", "last call", "time is past"]


def test_workers_that_claim_at_once_share_the_rows_and_leave_none(scene: Scene) -> None:
    for number in range(PHONES):
        foreman(scene, f"p{number}")
    for _ in range(JOBS):
        scene.derive(OPENS, job=str(uuid.uuid4()))
    with scene.app.app_context(), write() as session:
        ripen(session, OPENS)
        outbox.fill(session, OPENS)
    held: list[tuple[str, str]] = []
    mistakes: list[Exception] = []
    threads = [
        threading.Thread(target=drain, args=(scene.app, f"w{n}", held, mistakes)) for n in range(WORKERS)
    ]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join(60)
    assert mistakes == []
    assert (len(held), max(Counter(held).values())) == (JOBS * PHONES, 1)
    with scene.app.app_context(), read() as session:
        assert set(session.scalars(select(Delivery.state))) == {"sent"}
