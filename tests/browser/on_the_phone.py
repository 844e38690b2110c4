"""What lies in a phone's own database, and the same question put to the engine here."""

import json
import subprocess
from datetime import UTC, datetime
from functools import partial
from pathlib import Path
from types import SimpleNamespace
from typing import Any

from sqlalchemy import select
from tests.browser.phones import Phone
from tests.browser.serving import COMMAND, Server

from slabtide.app import create_app
from slabtide.config import Config
from slabtide.log.fold import fold
from slabtide.log.view import view_job
from slabtide.office.pour import PlannedPour, planned_pour, pour_json
from slabtide.office.stored_weather import stored_hours
from slabtide.office.working import BEFORE_BATCHING, HORIZON, Worked, work_out
from slabtide.store.session import read
from slabtide.store.tables import Event
from slabtide.weather.assemble import weather_for

READ = """([store, key]) => new Promise((done, fail) => {
  const opening = indexedDB.open('slabtide');
  opening.onerror = () => fail(opening.error);
  opening.onsuccess = () => {
    const db = opening.result;
    const rows = db.transaction(store).objectStore(store);
    const asked = key === null ? rows.getAll() : rows.get(key);
    asked.onsuccess = () => { db.close(); done(asked.result ?? null); };
    asked.onerror = () => { db.close(); fail(asked.error); };
  };
})"""


def worked_here(phone: Phone, job: str) -> dict[str, Any] | None:
    """What the phone last worked out for a job, or None."""
    row = phone.page.evaluate(READ, ["meta", "worked"])
    found: dict[str, Any] | None = row and row["value"].get(job)
    return found


def question_of(phone: Phone, job: str) -> dict[str, Any]:
    """The engine's input from the phone's own log, made by the server's code; weather by hand."""
    events = [SimpleNamespace(**each) for each in phone.page.evaluate(READ, ["events", None])]
    view = view_job(fold([each for each in events if each.job == job], job))
    pour = planned_pour(view)
    assert isinstance(pour, PlannedPour)
    weather = weather_for(view, None, pour.begins - BEFORE_BATCHING, pour.ends + HORIZON)
    return pour_json(view, pour, weather.hours)[0]


def timeline_by_command(pour: dict[str, Any], at: str, folder: Path) -> Any:
    """What `slabtide timeline` prints for the same pour at the same moment."""
    file = folder / "pour.json"
    file.write_text(json.dumps(pour))
    command = [COMMAND, "timeline", file, "--at", at]
    done = subprocess.run(command, capture_output=True, text=True, check=True)
    return json.loads(done.stdout)


def worked_out_by_server(server: Server, job: str, at: str) -> Worked:
    """What the server's own code makes of its own log, as if it were `at`."""
    app = create_app(Config.from_environment(server.environment))
    with app.app_context(), read() as session:
        events = list(session.scalars(select(Event).where(Event.job == job)))
        stored = partial(stored_hours, session, events[0].company_id, job)
        return work_out(view_job(fold(events, job)), stored, datetime.fromisoformat(at).astimezone(UTC))
