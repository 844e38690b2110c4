"""A whole pour day on two slow phones without a signal, one with a wrong clock: nothing is lost."""

import json
import re
import time
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from tests.browser.acting import BOUNCE_MS, drop_pin, fill, press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.hardship import SLOW_LINK, clock_off_by, crash, reopen, shut, slowed
from tests.browser.on_the_phone import READ, worked_here, worked_out_by_server
from tests.browser.phones import Phone
from tests.browser.plan import Site, plan_job
from tests.browser.pour import loads_shown, log_load, tick, wait_for_plan, wait_for_sync_line
from tests.browser.serving import Server
from tests.browser.test_engine_on_the_phone import wait_for_engine
from tests.browser.test_the_story import wait_until

CREW, FOREMAN = "Luis Ortega", "Wes Holm"
CLOCK_FAST = timedelta(minutes=7)
SLOWER = 4


def events(phone: Phone) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = phone.page.evaluate(READ, ["events", None])
    return found


def now() -> datetime:
    return datetime.now(UTC)


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


def step(phone: Phone, job: str, screen: str, bay: str, *marks: str) -> None:
    """Starts and ends steps of a bay, each by its own key: "Start: Texture"."""
    phone.go(f"/job/{job}/{screen}")
    name = phone.page.locator(".bay-name").filter(has_text=f"Bay {bay}")
    name.wait_for()
    if name.get_attribute("aria-expanded") == "false":
        name.click()
    for mark in marks:
        key = phone.page.get_by_role("button", name=f"{mark}, Bay {bay}", exact=True)
        key.click()
        if mark.startswith("Start"):
            key = phone.page.get_by_role(
                "button", name=f"{mark.replace('Start', 'End')}, Bay {bay}", exact=True
            )
            key.wait_for()
        else:
            key.wait_for(state="detached")


def check(phone: Phone, job: str, bay: str, answer: str) -> None:
    phone.go(f"/job/{job}/texture")
    press(phone.page, "Check the surface")
    sheet = phone.page.get_by_role("dialog", name="Surface check")
    press(sheet, f"Bay {bay}")
    press(sheet, answer)
    sheet.get_by_text("Noted.", exact=True).wait_for()
    press(sheet, "Back to work")


def pin(phone: Phone, job: str, x: int, y: int, count: int) -> None:
    phone.go(f"/job/{job}/list/touch-up")
    drop_pin(phone.page, x, y)
    walk = phone.page.get_by_role("region", name="The walk, in order")
    walk.locator(".pin-row").nth(count - 1).wait_for()
    phone.page.wait_for_timeout(BOUNCE_MS)


def write_third_ticket(phone: Phone, job: str, site: Site, field: str, amount: str) -> None:
    """The short third truck, of which the plan knows nothing, with one more thing read off its ticket."""
    phone.go(f"/job/{job}/pour")
    press(phone.page, "Log a load")
    fill(phone.page, "Load number", "3")
    fill(phone.page, "Ticket number", "T-77")
    fill(phone.page, "Batched at", site.clock(0.8))
    fill(phone.page, "Volume", "2")
    fill(phone.page, field, amount)
    press(phone.page, "Save load 3")
    phone.page.get_by_role("heading", name="Load 3", exact=True).wait_for()


def crew_morning(crew: Phone, job: str, site: Site) -> None:
    tick(crew, job, "forms", "Braced at joints", "Kickers set")
    log_load(crew, job, site, 1, 2.2)
    with crew.page.expect_event("load"):
        crew.page.reload()
    step(
        crew, job, "pour", "A", "Start: Strike off", "End: Strike off", "Start: Bull float", "End: Bull float"
    )


def foreman_morning(foreman: Phone, job: str, site: Site) -> None:
    tick(foreman, job, "forms", "Forms match the plan", "Stakes driven")
    log_load(foreman, job, site, 2, 1.5, fresh_number=True)
    step(foreman, job, "pour", "B", "Start: Strike off", "End: Strike off")
    write_third_ticket(foreman, job, site, "Slump", "4")


def crew_afternoon(crew: Phone, job: str, site: Site) -> None:
    write_third_ticket(crew, job, site, "Concrete temperature", "78")
    load = crew.page.get_by_role("listitem").filter(
        has=crew.page.get_by_role("heading", name="Load 3", exact=True)
    )
    press(load, "Started placing")
    crew.page.wait_for_timeout(1_100)  # placing takes a second at least
    press(load, "Placed")
    load.get_by_text(re.compile("^Placed .* to ")).wait_for()
    check(crew, job, "A", "Mat prints clean")
    crew.go(f"/job/{job}/list/release")
    press(crew.page, "Liquid laid: Bay A")
    crew.page.get_by_text(re.compile("^laid .* ago|laid")).first.wait_for()
    step(crew, job, "texture", "A", "Start: Texture", "End: Texture")


def foreman_afternoon(foreman: Phone, job: str) -> None:
    check(foreman, job, "B", "Paste sticks")
    step(foreman, job, "texture", "B", "Start: Texture")
    pin(foreman, job, 120, 150, 1)
    pin(foreman, job, 200, 150, 2)
    walk = foreman.page.get_by_role("region", name="The walk, in order")
    walk.get_by_role("button", name=re.compile("^Done: ")).first.click()
    walk.locator(".pin-row").nth(1).wait_for(state="detached")
    foreman.go(f"/job/{job}/next-days")
    press(foreman.page, "Blanket laid")
    foreman.page.get_by_text("Curing blanket, whole slab").first.wait_for()


@pytest.mark.browser
def test_a_pour_day_without_a_signal_loses_nothing_and_ends_alike_everywhere(
    open_phone: OpenPhone, server: Server
) -> None:
    began = time.monotonic()
    foreman, crew = open_phone(), open_phone()
    for phone in (foreman, crew):
        phone.page.set_default_timeout(60_000)
    join(foreman, "foreman", FOREMAN)
    site = Site.at_five_in_the_afternoon()
    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=3, lead=FOREMAN)
    wait_for_sync_line(foreman, "All sent.")
    # Over a link so slow that no answer tells the time: the plan is there, the clock was never measured.
    crew.context.add_init_script(clock_off_by(CLOCK_FAST))
    crew.context.add_init_script(SLOW_LINK)
    join(crew, "crew", CREW)
    wait_for_plan(crew, job)
    for phone in (foreman, crew):
        wait_for_engine(phone)
        phone.context.set_offline(True)
    assert crew.page.evaluate(READ, ["meta", "offsetMs"]) is None
    planned = {each["id"] for each in events(foreman)}
    cut = now()

    with slowed(crew, SLOWER):
        crew_morning(crew, job, site)
    with slowed(foreman, SLOWER):
        foreman_morning(foreman, job, site)
    crash(foreman)
    shut(crew)
    reopen(foreman)
    reopen(crew)
    with slowed(crew, SLOWER):
        crew_afternoon(crew, job, site)
    with slowed(foreman, SLOWER):
        foreman_afternoon(foreman, job)
    mine = {name: {each["id"] for each in events(phone)} - planned for name, phone in both(crew, foreman)}
    assert len(mine[CREW]) >= 15
    assert len(mine[FOREMAN]) >= 12

    back = now()
    crew.page.evaluate("localStorage.setItem('link', 'good')")
    with slowed(foreman, SLOWER), slowed(crew, SLOWER):
        for phone in (foreman, crew):
            phone.context.set_offline(False)
        for phone in (foreman, crew):
            wait_for_sync_line(phone, "All sent.", within_s=60)
    crew.page.get_by_text("This phone’s clock is 7 min fast. Times are put right.").wait_for()
    one_truck(foreman, job)
    wait_for_sync_line(foreman, "All sent.", within_s=60)

    all_there_once(server, {CREW: crew, FOREMAN: foreman}, mine)
    times_are_right(server, mine[CREW], cut, back)
    both_tell_who(crew, foreman, job)
    same_times_everywhere(server, crew, foreman, job)
    assert crew.complaints + foreman.complaints == []
    print(f"a whole day: {time.monotonic() - began:.0f} s")


def both(crew: Phone, foreman: Phone) -> list[tuple[str, Phone]]:
    return [(CREW, crew), (FOREMAN, foreman)]


def one_truck(foreman: Phone, job: str) -> None:
    """The truck that both wrote down is found, and made one."""
    foreman.go(f"/job/{job}/pour")
    asked = foreman.page.get_by_text(re.compile("Load 3 is written twice"))
    asked.wait_for()
    press(foreman.page, f"Same truck: keep {CREW}’s")
    asked.wait_for(state="detached")


def all_there_once(server: Server, phones: dict[str, Phone], mine: dict[str, set[str]]) -> None:
    kept = [each["id"] for each in server.enrol("office", "Ida Brandt").events()]
    assert len(kept) == len(set(kept))
    for name, phone in phones.items():
        assert phone.page.evaluate(READ, ["rejected", None]) == []
        assert mine[name] <= set(kept)
        wait_until(
            lambda phone=phone: {each["id"] for each in events(phone)} == set(kept), f"all on {name}'s"
        )


def times_are_right(server: Server, crews: set[str], cut: datetime, back: datetime) -> None:
    """What the phone with the wrong clock wrote happened between the cut and the signal's return."""
    kept = [each for each in server.enrol("office", "Ada Lind").events() if each["id"] in crews]
    for each in kept:
        assert cut <= moment(each["at"]) <= back, each
        gap = moment(each["raw_at"]) - moment(each["at"])
        assert abs(gap - CLOCK_FAST) < timedelta(seconds=2), each
    [placed] = [
        each["body"] for each in kept if each["kind"] == "load.placed" and each["body"]["from"] > iso(cut)
    ][-1:]
    assert cut <= moment(placed["from"]) < moment(placed["to"]) <= back


def iso(at: datetime) -> str:
    return at.isoformat().replace("+00:00", "Z")


def both_tell_who(crew: Phone, foreman: Phone, job: str) -> None:
    for name in ("forms", "touch-up"):
        told = [listed(phone, job, name) for phone in (crew, foreman)]
        assert told[0] == told[1]
    assert sum(CREW in row for row in listed(crew, job, "forms")) == 2
    assert sum(FOREMAN in row for row in listed(crew, job, "forms")) == 2
    loads = wait_until(
        lambda: (one := loads_shown(crew, job)) == loads_shown(foreman, job) and one, "same loads"
    )
    assert [f"Load {number}" in loads for number in (1, 2, 3)] == [True] * 3
    assert loads.count("Load 3") == 1
    assert CREW in loads
    assert FOREMAN in loads


def listed(phone: Phone, job: str, name: str) -> list[str]:
    """Rows of a list, and pins, that somebody has done something to."""
    phone.go(f"/job/{job}/list/{name}")
    phone.page.get_by_role("checkbox").first.wait_for()
    rows = phone.page.locator("main [role=checkbox], main .pin-row > span:first-child").all_inner_texts()
    return [row for row in rows if CREW in row or FOREMAN in row]


def same_times_everywhere(server: Server, crew: Phone, foreman: Phone, job: str) -> None:
    def rest_on() -> list[str]:
        found = [worked_here(phone, job) for phone in (crew, foreman)]
        return [each["rests_on"] if each else "" for each in found]

    wait_until(
        lambda: len(set(rest_on())) == 1 and '"into"' in rest_on()[0], "both to work out the whole log", 60
    )
    for name, phone in both(crew, foreman):
        found = worked_here(phone, job)
        assert found
        theirs = worked_out_by_server(server, job, found["computed_at"])
        assert len(found["timeline"]["loads"]) == 3
        assert found["timeline"] == json.loads(json.dumps(theirs.timeline)), name
