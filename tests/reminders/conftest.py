"""A slab ready to be reminded of: placed this morning, its timeline as the engine would give it."""

from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from tests.conftest import Joined
from tests.reminders.push_service import PushService
from tests.store.conftest import HERE as POSTGRESQL_HERE

from slabtide.config import config_of
from slabtide.reminders import worker
from slabtide.reminders.contract import When
from slabtide.reminders.keys import make_key
from slabtide.reminders.rules import derive
from slabtide.reminders.upsert import upsert
from slabtide.reminders.windows import Facts
from slabtide.store.session import read, write
from slabtide.store.tables import Delivery, JobMark, PushSubscription, Reminder

collect_ignore = [] if POSTGRESQL_HERE else ["test_postgresql.py"]
ZONE = "America/Chicago"
PLACED = datetime(2026, 7, 14, 13, 0, tzinfo=UTC)  # 8:00 am in Chicago
OPENS = datetime(2026, 7, 14, 23, 0, tzinfo=UTC)  # 6:00 pm
CLOSES = datetime(2026, 7, 15, 4, 0, tzinfo=UTC)  # 11:00 pm


def when(likely: datetime, minutes: int = 40) -> dict[str, str]:
    spread = timedelta(minutes=minutes)
    return When(likely - spread, likely, likely + spread).as_json()


def saw_timeline(opens: datetime = OPENS, closes: datetime = CLOSES) -> dict[str, Any]:
    window = {"opens": when(opens), "closes": when(closes)}
    return {"loads": [{"id": "1", "windows": {"saw": window}}], "slots": {}}


def facts(**changed: Any) -> Facts:
    known: dict[str, Any] = {
        "job": "11111111-1111-4111-8111-111111111111",
        "name": "Harbor patio",
        "time_zone": ZONE,
        "closed": False,
        "placed_to": (PLACED,),
        "cuts_done": False,
        "saw_length_m": 22.0,
        "saw_rate_m_per_min": 1.0,
        "washed_at": None,
        "coloured_at": None,
        "coats_at": (),
    }
    return Facts(**(known | changed))


@pytest.fixture
def service() -> Iterator[PushService]:
    made = PushService()
    yield made
    made.close()


@dataclass
class Scene:
    """One company, its phones and its push service; time is what the test says it is."""

    app: Flask
    client: FlaskClient
    company: str
    service: PushService

    def subscribe(self, who: Joined, phone: str) -> None:
        answer = self.client.post(
            "/api/push/subscription", json=self.service.subscription(phone), headers=who.headers
        )
        assert answer.status_code == 204, answer.get_data(as_text=True)

    def derive(self, now: datetime, timeline: dict[str, Any] | None = None, **changed: Any) -> None:
        """What the worker does once a job's outlook is computed; sawing alone, so that tests can count."""
        known = facts(**changed)
        specs = derive(known, saw_timeline() if timeline is None else timeline)
        specs = [spec for spec in specs if spec.what == "saw"]
        ahead = sorted({f"{spec.what}/{spec.subject}" for spec in specs})
        notebook = {"name": known.name, "time_zone": known.time_zone, "ahead": ahead}
        with self.app.app_context(), write() as session:
            if session.get(JobMark, (self.company, known.job)) is None:
                session.add(JobMark(company_id=self.company, job=known.job, dirty=False, version=1))
                session.flush()
            mark = session.get(JobMark, (self.company, known.job))
            assert mark is not None
            mark.state = notebook
            upsert(session, self.company, known.job, notebook, specs, {}, now)

    def tick(self, now: datetime, wait_s: float = 12.0) -> worker.TickReport:
        return worker.tick(self.app, now, wait_s)

    def stage(self, stage: str, what: str = "saw") -> Reminder:
        with self.app.app_context(), read() as session:
            query = select(Reminder).where(Reminder.stage == stage, Reminder.what == what)
            return session.scalars(query).one()

    def states(self, what: str = "saw") -> dict[str, str]:
        with self.app.app_context(), read() as session:
            rows = session.scalars(select(Reminder).where(Reminder.what == what).order_by(Reminder.due))
            return {row.stage: row.state for row in rows}

    def deliveries(self) -> list[Delivery]:
        with self.app.app_context(), read() as session:
            return list(session.scalars(select(Delivery).order_by(Delivery.created_at)))

    def subscriptions(self) -> dict[str, PushSubscription]:
        with self.app.app_context(), read() as session:
            rows = session.scalars(select(PushSubscription))
            return {row.endpoint.rpartition("/")[2]: row for row in rows}

    def stages_sent(self, phone: str | None = None) -> list[str]:
        """Titles' last words, in order of arrival."""
        return [
            one.message["notification"]["title"].rpartition(", ")[2]
            for one in self.service.arrived
            if phone in (None, one.phone)
        ]


@pytest.fixture
def scene(app: Flask, client: FlaskClient, company: str, service: PushService) -> Iterator[Scene]:
    make_key(config_of(app).vapid_key_file)
    yield Scene(app, client, company, service)
    worker.close(app)


@pytest.fixture
def foreman(join: Callable[..., Joined], scene: Scene) -> Joined:
    """A foreman whose phone "lead" takes notifications."""
    who = join("foreman", name="Ana")
    scene.subscribe(who, "lead")
    return who
