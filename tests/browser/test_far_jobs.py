"""A company of more jobs than a phone carries: one opened is carried, others say where their times are.

Above a few dozen jobs their entries stay with the server too, until somebody opens them.
"""

import json
import re
import time
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect
from scripts.demo.phone import event_id, instant
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.judge import faults_by_state, runs_over
from tests.browser.on_the_phone import READ
from tests.browser.phones import Phone
from tests.browser.pour import ticks_shown
from tests.browser.serving import Person, Server

from slabtide.office.near import MOST_NEAR

pytestmark = pytest.mark.browser

PLACE = {"latitude_deg": 36.1, "longitude_deg": -79.95, "time_zone": "America/New_York", "use": "patio"}
NOT_HERE = "This job’s times are not on this phone. They come with signal."
NONE_YET = "No reminder for this job yet."


def begin(office: Person, name: str, pour_in: timedelta) -> str:
    job = str(uuid.uuid4())
    office.record(job, "job.opened", {"name": name, **PLACE})
    order = {"volume_m3": 5, "loads": 1, "pour_at": instant(datetime.now(UTC) + pour_in)}
    office.record(job, "order.placed", order)
    return job


def far_jobs(office: Person, within_s: float = 60) -> tuple[str, str]:
    """Two jobs that no phone carries by itself, beside as many nearer ones as it does."""
    first = begin(office, "Far steps", timedelta(days=90))
    second = begin(office, "Far walk", timedelta(days=91))
    for number in range(MOST_NEAR):
        begin(office, f"Patio {number}", timedelta(days=2))
    deadline = time.monotonic() + within_s
    while {first, second} & set(office.call("GET", "/api/outlook?near=1")["carried"]):
        assert time.monotonic() < deadline, "the rows of the board were not made"
        time.sleep(0.2)
    return first, second


def look(phone: Phone, job: str, words: str) -> None:
    phone.go(f"/job/{job}/next-days")
    expect(phone.page.get_by_text(words)).to_be_visible(timeout=20_000)


def test_a_far_job_is_carried_once_opened_and_says_so_where_it_was_not(
    open_phone: OpenPhone, server: Server
) -> None:
    opened, unopened = far_jobs(server.enrol("office", "Ida Brandt"))
    phone = open_phone(engine=False)
    with phone.page.expect_response(re.compile(r"/api/outlook\?near=1$")) as told:
        join(phone, "foreman", "Wes Holm")
    assert not {opened, unopened} & set(told.value.json()["jobs"])
    look(phone, opened, NONE_YET)
    phone.page.wait_for_function("navigator.onLine")
    phone.context.set_offline(True)
    look(phone, unopened, NOT_HERE)
    phone.page.reload()
    expect(phone.page.get_by_text(NOT_HERE)).to_be_visible(timeout=20_000)
    look(phone, opened, NONE_YET)
    phone.context.set_offline(False)
    look(phone, unopened, NONE_YET)
    assert phone.complaints == []


MANY = 70
"""More jobs than a phone holds whole (pwa/src/page/sync/carry/carrier.ts)."""


def begin_many(office: Person, named: dict[str, timedelta], within_s: float = 60) -> dict[str, str]:
    """A job with an order and a note for each name; its id by name, once the server lists them."""
    now = datetime.now(UTC)
    device, author = office.answer["device"]["id"], office.answer["person"]["id"]
    events, jobs = [], {name: str(uuid.uuid4()) for name in named}
    for name, pour_in in named.items():
        order = {"volume_m3": 5, "loads": 1, "pour_at": instant(now + pour_in)}
        opened = {"name": name, "place": f"{name}, Mill Row", **PLACE}
        said = {"job.opened": opened, "order.placed": order, "note.written": {"text": f"Gate at {name}."}}
        for kind, body in said.items():
            at = now + timedelta(milliseconds=len(events))
            ms = int(at.timestamp() * 1000)
            events.append(
                {
                    "id": event_id(at, f"{name}{kind}"),
                    "job": jobs[name],
                    "kind": kind,
                    "body": body,
                    "at": instant(at),
                    "clock": f"{ms:015d}-0000-{device}",
                    "device": device,
                    "author": author,
                    "raw_at": None,
                }
            )
    answer = office.call("POST", "/api/sync", {"cursor": 0, "events": events, "device_time": instant(now)})
    assert len(answer["accepted"]) == len(events), answer["rejected"]
    deadline = time.monotonic() + within_s
    while office.call("GET", "/api/jobs?limit=1")["total"] < len(named):
        assert time.monotonic() < deadline, "the rows of the board were not made"
        time.sleep(0.2)
    return jobs


def on_disk(phone: Phone) -> dict[str, int]:
    """How many entries of each job lie in the phone's own database."""
    found: dict[str, int] = {}
    for event in phone.page.evaluate(READ, ["events", None]):
        found[event["job"]] = found.get(event["job"], 0) + 1
    return found


def until_held(phone: Phone, count: int, within_s: float = 30) -> dict[str, int]:
    deadline = time.monotonic() + within_s
    while len(found := on_disk(phone)) < count:
        assert time.monotonic() < deadline, f"{len(found)} jobs are on the phone"
        time.sleep(0.2)
    return found


def no_fault(phone: Phone) -> None:
    """What is on the screen can be read and reached."""
    phone.page.get_by_role("heading", level=1).first.wait_for()
    as_it_comes, _ = faults_by_state(phone.page, folded=False)
    assert not as_it_comes, json.dumps(as_it_comes, ensure_ascii=False)
    assert not runs_over(phone.page)


@pytest.mark.parametrize(
    ("locale", "away", "none"),
    [
        ("en-US", "This job is not on this phone", "No job fits."),
        ("es-US", "Esta obra no está en este teléfono", "Ninguna obra coincide."),
    ],
)
def test_a_far_jobs_entries_come_when_it_is_opened_and_work_without_signal_from_then_on(
    open_phone: OpenPhone, server: Server, locale: str, away: str, none: str
) -> None:
    office = server.enrol("office", "Ida Brandt")
    named = {"Far steps": timedelta(days=90), "Far walk": timedelta(days=91)}
    jobs = begin_many(office, named | {f"Patio {n}": timedelta(days=2) for n in range(MANY - 2)})
    far, never = jobs["Far steps"], jobs["Far walk"]
    phone = open_phone(locale=locale)
    join(phone, "foreman", "Wes Holm")
    here = until_held(phone, MOST_NEAR)
    assert len(here) == MOST_NEAR
    assert set(here.values()) == {3}
    assert not {far, never} & set(here)

    phone.context.set_offline(True)
    phone.go(f"/job/{far}/ready")
    expect(phone.page.get_by_role("heading", name=away)).to_be_visible(timeout=20_000)
    no_fault(phone)
    phone.go("/jobs")
    expect(phone.page.locator(".shell-jobs").first.locator("li")).to_have_count(MOST_NEAR)
    no_fault(phone)
    phone.go(f"/job/{far}/ready")
    phone.context.set_offline(False)
    expect(phone.page.get_by_text("Far steps").first).to_be_visible(timeout=20_000)
    assert until_held(phone, MOST_NEAR + 1)[far] == 3

    phone.context.set_offline(True)
    phone.page.reload()
    expect(phone.page.get_by_text("Far steps").first).to_be_visible(timeout=20_000)
    tick_first(phone, far)
    wait_until_here(phone, far, 4)  # shown at once, and kept a moment later
    phone.page.reload()
    assert ticks_shown(phone, far, "forms")[0][1]
    office.record(far, "note.written", {"text": "Gate code changed."})
    phone.context.set_offline(False)
    wait_until_here(phone, far, 5)
    assert [event["kind"] for event in office.events() if event["job"] == far][-2:] == [
        "note.written",
        "item.ticked",
    ]

    phone.go("/jobs")
    search = phone.page.get_by_role("searchbox")
    search.fill("far WALK")
    expect(phone.page.locator(f"a[href^='#/job/{never}']")).to_be_visible(timeout=20_000)
    no_fault(phone)
    search.fill("no such place")
    expect(phone.page.get_by_text(none)).to_be_visible(timeout=20_000)
    assert never not in on_disk(phone)
    assert phone.complaints == []


def tick_first(phone: Phone, job: str) -> None:
    phone.go(f"/job/{job}/list/forms")
    phone.page.get_by_role("checkbox").first.click()
    phone.page.get_by_role("checkbox", checked=True).first.wait_for()


def wait_until_here(phone: Phone, job: str, count: int, within_s: float = 60) -> None:
    deadline = time.monotonic() + within_s
    while on_disk(phone).get(job) != count:
        assert time.monotonic() < deadline, on_disk(phone).get(job)
        time.sleep(0.3)
