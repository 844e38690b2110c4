"""On the slab without a signal: a check moves the close and can be undone; a what-if records nothing."""

import re
from typing import Any

import pytest
from tests.browser.acting import press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.on_the_phone import READ
from tests.browser.phones import Phone
from tests.browser.plan import Site, plan_job
from tests.browser.pour import log_load, wait_for_sync_line
from tests.browser.serving import Server
from tests.browser.test_engine_on_the_phone import (
    FOREMAN,
    check_a_surface,
    loads_worked_out,
    wait_for_engine,
    wait_until,
)


def closes(phone: Phone, job: str) -> Any:
    """The likely close of the first load's texture, as this phone last worked it out."""
    found = loads_worked_out(phone, job, 2)
    return found and found["timeline"]["loads"][0]["windows"]["texture"]["closes"]["likely"]


def events(phone: Phone) -> int:
    return len(phone.page.evaluate(READ, ["events", None]))


@pytest.mark.browser
def test_without_a_signal_a_check_moves_the_close_and_a_what_if_is_tried(
    open_phone: OpenPhone, server: Server
) -> None:
    foreman = open_phone()
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=3, lead=FOREMAN)
    wait_for_sync_line(foreman, "All sent.")
    wait_for_engine(foreman)
    foreman.wait_for_service_worker()
    foreman.context.set_offline(True)
    log_load(foreman, job, site, 1, 2.2)
    log_load(foreman, job, site, 2, 1.5)
    before = wait_until(lambda: closes(foreman, job), "times for both loads")

    check_a_surface(foreman, job)
    sheet = foreman.page.get_by_role("dialog", name="Surface check")
    lesson = sheet.get_by_text(re.compile("Texture of load 1 close[sd]|Load 1 leaves no time"))
    odd = sheet.get_by_text("does not fit the other checks")
    lesson.or_(odd).first.wait_for()
    if lesson.count():
        press(sheet, "Undo the last surface check")
    else:
        sheet.locator(".look-notice").filter(has=odd).get_by_role("button").click()
    lesson.or_(odd).first.wait_for(state="detached")
    wait_until(lambda: closes(foreman, job) == before, "the close as it was")

    kept = events(foreman)
    foreman.go(f"/job/{job}/what-if")
    press(foreman.page, "More: People texturing")
    foreman.page.get_by_text(re.compile("Chance to miss part of it")).wait_for()
    assert events(foreman) == kept
    assert foreman.complaints == []
