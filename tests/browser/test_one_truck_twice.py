"""Two phones without a signal write the same truck; the crew says once that it is one."""

import re

import pytest
from tests.browser.acting import fill, press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
from tests.browser.pour import loads_shown, wait_for_sync_line
from tests.browser.serving import Server
from tests.browser.test_hard_days import JOB, open_job

pytestmark = pytest.mark.browser


def crew(open_phone: OpenPhone, name: str) -> Phone:
    phone = open_phone(engine=False)
    join(phone, "crew", name)
    phone.page.get_by_role("link", name=re.compile("Lark Hill")).wait_for()
    return phone


def write_ticket(phone: Phone, field: str, amount: str) -> None:
    """The first load, batched 20 minutes ago, with one more thing read off its ticket."""
    phone.go(f"/job/{JOB}/pour")
    press(phone.page, "Log a load")
    press(phone.page, "20 min ago")
    fill(phone.page, "Volume", "7")
    fill(phone.page, field, amount)
    press(phone.page, "Save load 1")
    phone.page.get_by_role("heading", name="Load 1", exact=True).wait_for()


def test_a_truck_written_twice_becomes_one_with_what_both_read_and_can_be_taken_apart(
    open_phone: OpenPhone, server: Server
) -> None:
    open_job(server.enrol("foreman", "Wes Holm"))
    ana, luis = crew(open_phone, "Ana Reyes"), crew(open_phone, "Luis Ortega")
    for phone in (ana, luis):
        phone.context.set_offline(True)
    write_ticket(ana, "Slump", "4")
    write_ticket(luis, "Concrete temperature", "78")
    for phone in (ana, luis):
        phone.context.set_offline(False)
        wait_for_sync_line(phone, "All sent.")
    asked = ana.page.get_by_text(re.compile("^Careful Load 1 is written twice: by (Ana|Luis)"))
    asked.wait_for(timeout=40_000)
    press(ana.page, re.compile("^Same truck: keep Ana"))
    asked.wait_for(state="detached")
    shown = loads_shown(ana, JOB)
    assert shown.count("Load 1") == 1
    assert "slump 4" in shown
    assert "78" in shown
    wait_for_sync_line(ana, "All sent.")
    luis.go(f"/job/{JOB}/pour")
    luis.page.get_by_text("Load 1 was written twice; Ana Reyes made it one").wait_for(timeout=40_000)
    press(luis.page, "Load 1: two again")
    luis.page.get_by_text(re.compile("Load 1 is written twice")).wait_for()
