"""A company of more jobs than a phone carries: one opened is carried, others say where their times are."""

import re
import time
import uuid
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import expect
from scripts.demo.phone import instant
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
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
