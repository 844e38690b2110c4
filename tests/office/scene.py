"""A patio of two loads on a July morning, as its people would record it."""

import uuid
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from importlib.resources import files
from typing import Any

from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from tests.conftest import Joined, Syncs, iso

from slabtide.office.stored_weather import load_file
from slabtide.reminders import worker
from slabtide.store.session import read, write
from slabtide.store.tables import Reminder

ZONE = "America/New_York"
FIRST_BATCH = datetime(2026, 7, 14, 10, 30, tzinfo=UTC)  # 6:30 am at the slab
HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
PLACE = {"latitude_deg": 36.1, "longitude_deg": -79.95, "time_zone": ZONE}
DAY = {"low_c": 20, "high_c": 31, "rh": 0.7, "wind_kmh": 8, "cloud": 0.3}


def typical_year() -> str:
    """The TMY3 file of station 723170 that the pvlib package carries."""
    return (files("pvlib") / "data" / "723170TYA.CSV").read_text()


@dataclass
class Patio:
    """One job. Events happen at the times given; only their clocks run with the wall clock."""

    app: Flask
    client: FlaskClient
    sync: Syncs
    foreman: Joined
    job: str = field(default_factory=lambda: str(uuid.uuid4()))
    loads: tuple[str, str] = field(default_factory=lambda: (str(uuid.uuid4()), str(uuid.uuid4())))

    def record(self, kind: str, body: dict[str, Any], at: datetime = FIRST_BATCH) -> str:
        clock = self.sync.event(self.foreman, self.job, kind, body)
        event = clock | {"at": iso(at)}
        answer = self.sync(self.foreman, event)
        assert answer["accepted"] == [event["id"]], answer["rejected"]
        return str(event["id"])

    def open(self, name: str = "Harbor patio") -> None:
        self.record("job.opened", {"name": name, "use": "patio", **PLACE})

    def outline(self) -> None:
        corners = [[0, 0], [8, 0], [8, 6.5], [0, 6.5]]
        body = {"corners": corners, "thickness_m": 0.115, "insulation_r_m2k_w": 0.1}
        more = {"ground_temp_c": 21, "solar_absorptivity": 0.65, "abutting": [], "uncut_length_m": 8}
        self.record("slab.outlined", body | more)

    def order(self, pour_at: datetime = FIRST_BATCH + 30 * MINUTE) -> None:
        self.record("order.placed", {"volume_m3": 6.4, "loads": 2, "pour_at": iso(pour_at)})

    def crew(self) -> None:
        body = {"people": 4, "mats": 8, "mat_area_m2": 0.6, "lay_minutes": 2.0}
        saw = {"saw_kind": "conventional", "saw_length_m": 22, "saw_rate_m_per_min": 1.0}
        self.record("crew.assigned", body | saw)

    def days(self, *dates: str) -> None:
        self.record("weather.planned", {"days": [{"date": day, **DAY} for day in dates]})

    def typical_year(self, onto: str = "2026-07-13") -> None:
        with self.app.app_context(), write() as session:
            day = datetime.fromisoformat(onto).date()
            load_file(session, self.foreman.company, self.job, typical_year(), "tmy3", day, FIRST_BATCH)

    def ticket(self, number: int, temp_c: float | None = 25.0) -> None:
        batched = FIRST_BATCH + (number - 1) * 45 * MINUTE
        body = {"load": self.loads[number - 1], "number": number, "batched_at": iso(batched)}
        temp = {} if temp_c is None else {"concrete_temp_c": temp_c}
        self.record("load.ticketed", body | {"volume_m3": 3.2} | temp, batched)

    def place(self, number: int) -> None:
        begins = FIRST_BATCH + (number - 1) * 45 * MINUTE + 35 * MINUTE
        body = {"load": self.loads[number - 1], "from": iso(begins), "to": iso(begins + 25 * MINUTE)}
        self.record("load.placed", body | {"area_m2": 26}, begins + 25 * MINUTE)

    def poured(self) -> "Patio":
        """Everything up to the second load in place, over the typical July."""
        self.open()
        self.outline()
        self.order()
        self.crew()
        for number in (1, 2):
            self.ticket(number)
            self.place(number)
        self.typical_year()
        return self

    def tick(self, now: datetime) -> worker.TickReport:
        return worker.tick(self.app, now)

    def outlook(self) -> dict[str, Any]:
        """The whole outlook as the foreman's phone gets it."""
        answer = self.client.get("/api/outlook", headers=self.foreman.headers)
        assert answer.status_code == 200, answer.get_data(as_text=True)
        found: dict[str, Any] = answer.get_json()
        return found

    def reminders(self, what: str = "saw") -> dict[str, Reminder]:
        """The stored reminders of this job, by stage."""
        with self.app.app_context(), read() as session:
            rows = session.scalars(select(Reminder).where(Reminder.job == self.job, Reminder.what == what))
            return {row.stage: row for row in rows}

    def mine(self) -> dict[str, Any]:
        """This job's part of it."""
        found: dict[str, Any] = self.outlook()["jobs"][self.job]
        return found
