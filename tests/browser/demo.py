"""The demo company in a test's server, and how a person joins through the screens."""

import subprocess
import time
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from scripts.demo.closed import PAST
from tests.browser.phones import Phone
from tests.browser.serving import ROOT, Person, Server

POURED, MADE_READY = ("Lantern Row patio", "Ferry House pool deck"), "Quarry Rise front walk"


@dataclass(frozen=True)
class DemoJobs:
    """Ids of the demo's jobs: poured today, in its next days, being made ready."""

    patio: str
    deck: str
    walk: str


def load_demo(server: Server, within_s: float = 60) -> DemoJobs:
    """Loads the demo as `scripts/run` does, and waits until every poured job has its timeline."""
    command = [ROOT / "scripts" / "demo-data", "--url", server.base_url]
    done = subprocess.run(command, env=server.environment, capture_output=True, text=True, cwd=ROOT)
    assert done.returncode == 0, done.stderr
    person = server.enrol("foreman", "Wes Holm")
    deadline = time.monotonic() + within_s
    while time.monotonic() < deadline:
        outlook = person.call("GET", "/api/outlook")
        named = {row["name"]: row["job"] for row in person.call("GET", "/api/board")["jobs"]}
        if all(outlook["jobs"].get(named.get(name), {}).get("timeline") for name in POURED):
            return DemoJobs(*(named[name] for name in (*POURED, MADE_READY)))
        time.sleep(0.5)
    raise AssertionError(f"no timelines by {datetime.now(UTC)}: {outlook['jobs']}")


def looked_back(reader: Person, within_s: float = 60) -> Any:
    """Looking back, once every closed job is counted in and the next one knows."""
    deadline = time.monotonic() + within_s
    while True:
        found = reader.call("GET", "/api/lookback")
        if found["jobs"] == len(PAST) or time.monotonic() > deadline:
            return found
        time.sleep(0.5)


def texture_opens(server: Server, job: str) -> datetime:
    """A minute after the first load's texture window likely opens, or now where it is open already."""
    outlook = server.enrol("foreman", "Wes Holm").call("GET", "/api/outlook")
    [first, *_] = outlook["jobs"][job]["timeline"]["loads"]
    opens = datetime.fromisoformat(first["windows"]["texture"]["opens"]["likely"])
    return max(opens + timedelta(minutes=1), datetime.now(UTC))


def join(phone: Phone, role: str, name: str) -> None:
    """Opens a fresh link on the phone, as the person it was sent to would."""
    phone.go(f"/join/{phone.server.invite(role)}")
    # By what they are rather than by their words: the phone may speak either language.
    phone.page.locator("input[autocomplete=name]").fill(name)
    phone.page.locator("button[type=submit]").click()
    phone.page.wait_for_url(lambda url: "#/join" not in url)
    phone.wait_for_service_worker()
