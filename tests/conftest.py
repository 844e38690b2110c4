"""What every server test stands on: an application of its own, and people who have joined it."""

from __future__ import annotations

import shutil
import uuid
from collections.abc import Callable, Iterator
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from hypothesis import settings
from werkzeug.test import TestResponse

from slabtide.app import create_app
from slabtide.config import Config
from slabtide.people.companies import create_company
from slabtide.people.joining import join_person
from slabtide.store import database, migrated

HERE = Path(__file__).parent
# A law is true or not, however busy the machine: an example that takes long is no failure.
settings.register_profile("any machine", deadline=None)
settings.load_profile("any machine")
# Files that take longest, each run by one worker: begun first, so that none is left to run alone at the end.
LONGEST = (
    "browser/test_every_screen.py",
    "browser/test_a_whole_day.py",
    "browser/test_engine_on_the_phone.py",
    "browser/test_at_the_mats.py",
    "browser/test_office_desk.py",
    "browser/test_the_story.py",
    "browser/test_whole_timelines.py",
    "browser/test_deciding.py",
    "browser/test_mix_and_covers.py",
    "reminders/test_kills.py",
    "reminders/test_soak.py",
    "phone/test_parity.py",
    "sync/test_kills.py",
    "store/test_postgresql.py",
    "engine/test_calibration.py",
    "office/learned/test_lookback.py",
    "cli/test_commands.py",
)


def pytest_collection_modifyitems(items: list[pytest.Item]) -> None:
    """The longest files first; all else in the order it is found."""
    if gone := [name for name in LONGEST if not (HERE / name).is_file()]:
        raise pytest.UsageError(f"{__file__} lists as long what is not there: {', '.join(gone)}")
    places = {HERE / name: place for place, name in enumerate(LONGEST)}
    items.sort(key=lambda item: places.get(item.path, len(LONGEST)))


@dataclass(frozen=True)
class Joined:
    """A device that has joined: the token it carries, and whose it is."""

    token: str
    device: str
    person: str
    name: str
    role: str
    company: str

    @property
    def headers(self) -> dict[str, str]:
        return {"Authorization": f"Bearer {self.token}"}


class Syncs:
    """A phone as the server sees it: makes events, offers them, remembers the cursor of each device."""

    def __init__(self, client: FlaskClient) -> None:
        self.client = client
        self.cursors: dict[str, int] = {}
        self._counter = 0

    def event(self, who: Joined, job: str, kind: str, body: dict[str, Any], **changed: Any) -> dict[str, Any]:
        """An event by `who`, happening now unless `at` (an aware datetime) is given."""
        self._counter += 1
        at: datetime = changed.pop("at", None) or datetime.now(UTC)
        ms = int(at.timestamp() * 1000)
        made = {
            "id": uuid7(ms),
            "job": job,
            "kind": kind,
            "body": body,
            "at": iso(at),
            "clock": f"{ms:015d}-{self._counter % 65536:04x}-{who.device}",
            "device": who.device,
            "author": who.person,
            "raw_at": None,
        }
        return made | changed

    def offer(self, who: Joined, events: list[dict[str, Any]], **more: Any) -> TestResponse:
        """POST /api/sync, whatever the answer."""
        body = {
            "cursor": self.cursors.get(who.device, 0),
            "events": events,
            "device_time": iso(datetime.now(UTC)),
        } | more
        return self.client.post("/api/sync", json=body, headers=who.headers)

    def __call__(self, who: Joined, *events: dict[str, Any], **more: Any) -> dict[str, Any]:
        """Offer `events`, insist on a 200, move the cursor and give the answer."""
        response = self.offer(who, list(events), **more)
        assert response.status_code == 200, response.get_data(as_text=True)
        answer: dict[str, Any] = response.get_json()
        self.cursors[who.device] = answer["cursor"]
        return answer

    def record(self, who: Joined, job: str, kind: str, body: dict[str, Any], **changed: Any) -> str:
        """Make one event, insist that the server accepts it, give its id."""
        event = self.event(who, job, kind, body, **changed)
        answer = self(who, event)
        assert answer["accepted"] == [event["id"]], answer["rejected"]
        return str(event["id"])


def iso(moment: datetime) -> str:
    """The wire's text for a moment."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def uuid7(ms: int) -> str:
    """A UUIDv7 for the millisecond `ms`."""
    chance = uuid.uuid4().int
    value = (
        (ms & (1 << 48) - 1) << 80
        | 0x7 << 76
        | (chance >> 64 & 0xFFF) << 64
        | 0b10 << 62
        | chance & (1 << 62) - 1
    )
    return str(uuid.UUID(int=value))


@pytest.fixture(scope="session")
def migrated_file(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A migrated, empty SQLite file: copied for each test, since migrating takes longer than most tests."""
    home = tmp_path_factory.mktemp("migrated")
    app = create_app(config_in(home), check_database=False)
    migrated.upgrade(app)
    database.dispose(app)
    return home / "slabtide.db"


def config_in(home: Path, **changed: Any) -> Config:
    """Settings for a server whose everything lies in `home`."""
    settings: dict[str, Any] = {
        "home": home,
        "database_url": f"sqlite:///{home / 'slabtide.db'}",
        "base_url": "https://slab.test",
        "push_contact": "mailto:office@slab.test",
        "push_hosts": ("127.0.0.1",),
        "web_dir": home / "web",
    }
    return Config(**(settings | changed))


@pytest.fixture
def home(tmp_path: Path, migrated_file: Path) -> Path:
    """A folder that stands for SLABTIDE_HOME, with a migrated database in it."""
    folder = tmp_path / "home"
    folder.mkdir()
    shutil.copy(migrated_file, folder / "slabtide.db")
    return folder


@pytest.fixture
def app(home: Path) -> Iterator[Flask]:
    """An application on a database of its own."""
    made = create_app(config_in(home))
    yield made
    database.dispose(made)


@pytest.fixture
def client(app: Flask) -> FlaskClient:
    return app.test_client()


@pytest.fixture
def company(app: Flask) -> str:
    """The id of a company with nobody in it."""
    with app.app_context():
        return create_company("Harbor Flatwork")


@pytest.fixture
def join(app: Flask, company: str) -> Callable[..., Joined]:
    """`join("foreman")` gives a device that has joined; `company=` and `name=` when it matters."""

    def joined(role: str, *, name: str = "", company: str = company, language: str = "en") -> Joined:
        who = name or f"{role} {uuid.uuid4().hex[:4]}"
        with app.app_context():
            made = join_person(company, who, role, device_name=f"{who}'s phone", language=language)
        return Joined(made.token, made.device_id, made.person_id, made.person_name, role, company)

    return joined


@pytest.fixture
def sync(client: FlaskClient) -> Syncs:
    """`sync(who, *events)` offers events; `sync.record(who, job, kind, body)` makes and offers one."""
    return Syncs(client)


@pytest.fixture
def job() -> str:
    """A job id that no event has named yet."""
    return str(uuid.uuid4())
