"""On the slab there is no server: the phone works the times out itself, and says what the server would."""

import json
import re
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from tests.browser.acting import press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.on_the_phone import (
    READ,
    question_of,
    timeline_by_command,
    worked_here,
    worked_out_by_server,
)
from tests.browser.phones import Phone
from tests.browser.plan import Site, plan_job
from tests.browser.pour import log_load, wait_for_sync_line
from tests.browser.serving import Server

from slabtide.office.assumed import as_told

FOREMAN = "Wes Holm"
MEASURES = "(name) => performance.getEntriesByName(name).map(({ duration }) => Math.round(duration))"


def wait_until(seen: Callable[[], Any], what: str, within_s: float = 30) -> Any:
    deadline = time.monotonic() + within_s
    while time.monotonic() < deadline:
        if found := seen():
            return found
        time.sleep(0.1)
    raise AssertionError(f"not within {within_s} s: {what}")


def wait_for_engine(phone: Phone) -> int:
    """Until the phone can work by itself; how long the start took, in milliseconds."""
    started = wait_until(lambda: measured(phone, "slabtide-engine-start"), "the engine starts", within_s=90)
    return int(started[-1])


def measured(phone: Phone, name: str) -> list[int]:
    found: list[int] = phone.page.evaluate(MEASURES, name)
    return found


def loads_worked_out(phone: Phone, job: str, count: int) -> dict[str, Any] | None:
    found = worked_here(phone, job)
    placed = found and not found["planned"] and found["timeline"]
    return found if placed and len(placed["loads"]) == count else None


def settled(phone: Phone, job: str, count: int) -> dict[str, Any] | None:
    """The phone's times once they rest on the placing of every load as it was last written."""
    found = loads_worked_out(phone, job, count)
    events = phone.page.evaluate(READ, ["events", None])
    placed = {one["body"]["load"]: one["id"] for one in events if one["kind"] == "load.placed"}
    return found if found and all(each in found["rests_on"] for each in placed.values()) else None


@pytest.mark.browser
def test_a_load_logged_without_a_signal_gets_the_servers_own_times(
    open_phone: OpenPhone, server: Server, tmp_path: Path
) -> None:
    foreman = open_phone()
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=3, lead=FOREMAN)
    wait_for_sync_line(foreman, "All sent.")
    start_ms = wait_for_engine(foreman)
    foreman.wait_for_service_worker()
    foreman.context.set_offline(True)
    log_load(foreman, job, site, 1, 2.2)
    log_load(foreman, job, site, 2, 1.5)
    wait_until(lambda: settled(foreman, job, 2), "times for both loads")
    foreman.go("/now")
    card = foreman.page.get_by_role("article", name="Lark Hill patio")
    card.get_by_text(re.compile("Worked out on this phone, just now")).wait_for()
    assert card.get_by_role("img").or_(card.locator("svg")).count() > 0, "no tide strip"
    print("engine start [ms]:", start_ms, "recomputed [ms]:", measured(foreman, "slabtide-engine-work"))

    shut_and_open_again(foreman, job)
    check_a_surface(foreman, job)
    mine = wait_until(lambda: checked(foreman, job), "times that a check has moved")
    pour = question_of(foreman, job)
    assert len(pour["loads"]) == 2
    assert len(pour["checks"]) == 1
    assert mine["timeline"] == timeline_by_command(pour, mine["computed_at"], tmp_path)

    foreman.context.set_offline(False)
    wait_for_sync_line(foreman, "All sent.")
    theirs = worked_out_by_server(server, job, mine["computed_at"])
    assert mine["timeline"] == json.loads(json.dumps(theirs.timeline))
    assert mine["weather"] == theirs.weather
    assert {name: mine[name] for name in ("assumptions", "assumed")} == as_told(theirs.assumptions)
    assert foreman.complaints == []


def shut_and_open_again(phone: Phone, job: str) -> None:
    """What was worked out outlives the page; the engine starts again from what the phone keeps."""
    before = loads_worked_out(phone, job, 2)
    phone.page.reload()
    phone.page.get_by_text(re.compile("Worked out on this phone")).first.wait_for()
    assert loads_worked_out(phone, job, 2) == before
    wait_for_engine(phone)


def check_a_surface(phone: Phone, job: str) -> None:
    phone.go(f"/job/{job}/texture")
    press(phone.page, "Check the surface")
    section = phone.page.get_by_role("dialog", name="Surface check")
    load = section.get_by_role("button", name="Load 1", exact=True)
    if load.count():
        load.click()
    press(section, "Mat won’t print")


def checked(phone: Phone, job: str) -> dict[str, Any] | None:
    """The phone's times once they rest on a check."""
    found = loads_worked_out(phone, job, 2)
    return found if found and "mat_refused" in found["rests_on"] else None


@pytest.mark.browser
def test_reminders_of_the_phone_stand_on_its_own_times(open_phone: OpenPhone, server: Server) -> None:
    foreman = open_phone()
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=12, lead=FOREMAN)
    wait_for_sync_line(foreman, "All sent.")
    wait_for_engine(foreman)
    foreman.context.set_offline(True)
    log_load(foreman, job, site, 1, 10.4)
    found = wait_until(lambda: loads_worked_out(foreman, job, 1), "times for the load")
    saw = [each for each in found["reminders"] if each["what"] == "saw" and each["state"] == "due"]
    assert len(saw) == 1
    foreman.go(f"/job/{job}/next-days")
    foreman.page.get_by_text(saw[0]["title"]["en"]).first.wait_for()


@pytest.mark.browser
def test_a_browser_that_cannot_run_it_says_so_and_keeps_the_last_times(
    open_phone: OpenPhone, server: Server
) -> None:
    foreman = open_phone()
    foreman.context.add_init_script("delete globalThis.WebAssembly")
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=3, lead=FOREMAN)
    log_load(foreman, job, site, 1, 2.2)
    wait_for_sync_line(foreman, "All sent.")
    foreman.go("/now")
    foreman.page.get_by_text("can’t work out times by itself").wait_for()
    card = foreman.page.get_by_role("article", name="Lark Hill patio")
    card.get_by_text(re.compile("Worked out just now")).wait_for()
    foreman.context.set_offline(True)
    log_load(foreman, job, site, 2, 1.5)
    foreman.go("/now")
    card.get_by_text(re.compile("Worked out (just now|. min ago)")).wait_for()
    assert worked_here(foreman, job) is None
