"""The office's desk: a live board, each late item one press away, jobs from a list, a calendar to take."""

import re
import time
import urllib.error
import urllib.request
import uuid
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from playwright.sync_api import Browser, expect
from scripts.demo.phone import instant
from tests.browser.demo import DemoJobs, join
from tests.browser.judge import faults
from tests.browser.phones import Phone
from tests.browser.serving import Person, Server

from slabtide.reminders.words import clock

LIVE_S = 5.0
LIST = "name,latitude_deg,longitude_deg,time_zone\nNorth patio,{latitude},-79.95,America/New_York\n"
PLACE = {"latitude_deg": 36.1, "longitude_deg": -79.95, "time_zone": "America/New_York", "use": "patio"}


@pytest.fixture(scope="module")
def office(own_demo: tuple[Server, DemoJobs]) -> Server:
    return own_demo[0]


@pytest.fixture(scope="module")
def kims(browser: Browser, office: Server) -> Iterator[Phone]:
    """The desk that these tests sit down at, one after another."""
    phone = Phone(browser, office, 1280, 800)
    join(phone, "office", "Kim Ashe")
    yield phone
    phone.close()


@pytest.fixture
def desk(kims: Phone) -> Phone:
    kims.open_anew()
    kims.go("/board")
    kims.page.locator(".board-row").first.wait_for()
    return kims


@pytest.mark.browser
def test_a_job_opened_on_a_phone_stands_on_the_board_within_five_seconds(desk: Phone) -> None:
    foreman = desk.server.enrol("foreman", "Wes")
    desk.page.evaluate("globalThis.sameyet = true")
    name = f"Quarry steps {uuid.uuid4().hex[:4]}"
    foreman.record(str(uuid.uuid4()), "job.opened", {"name": name, **PLACE})
    taken = time.monotonic()
    desk.page.get_by_role("link", name=name).wait_for(timeout=15_000)
    assert time.monotonic() - taken <= LIVE_S
    assert desk.page.evaluate("globalThis.sameyet") is True  # no page was loaded meanwhile


@pytest.mark.browser
def test_what_is_next_is_one_press_from_its_whole_life(desk: Phone) -> None:
    desk.page.locator("a[href^='#/office/reminder/']").first.click()
    steps = desk.page.locator(".office-log > li")
    steps.first.wait_for()
    expect(steps.first).to_contain_text("Planned")
    assert faults(desk.page) == []


@pytest.mark.browser
def test_the_slash_and_the_arrows_move_over_the_board(desk: Phone) -> None:
    desk.page.keyboard.press("/")
    expect(desk.page.locator("input[type=search]")).to_be_focused()
    first = desk.page.locator(".board-job").first
    first.focus()
    desk.page.keyboard.press("ArrowDown")
    expect(desk.page.locator(".board-job").nth(1)).to_be_focused()


@pytest.mark.browser
def test_what_a_phone_syncs_stands_in_its_row_within_five_seconds(desk: Phone) -> None:
    """An open pin, and what the phone says it still holds, on the page that was open all along."""
    foreman = desk.server.enrol("foreman", f"Wes {uuid.uuid4().hex[:4]}")
    job, name = str(uuid.uuid4()), f"Lock wharf {uuid.uuid4().hex[:4]}"
    foreman.record(job, "job.opened", {"name": name, **PLACE})
    row = desk.page.locator(".board-row", has_text=name)
    row.wait_for(timeout=15_000)
    desk.page.evaluate("globalThis.sameyet = true")
    pin = {"pin": str(uuid.uuid4()), "spot": [1, 2], "what": "debris"}
    foreman.record(job, "pin.dropped", pin)
    report_unsent(foreman, 7, hours=5)
    taken = time.monotonic()
    expect(row.locator(".board-cell-pins .board-value")).to_have_text("1", timeout=15_000)
    expect(row.locator(".board-cell-heard .board-alarm")).to_contain_text("7", timeout=15_000)
    assert time.monotonic() - taken <= LIVE_S
    assert desk.page.evaluate("globalThis.sameyet") is True
    expect(row.locator(".board-standing")).to_have_class(re.compile("board-standing-watch"))


@pytest.mark.browser
def test_board_and_phone_name_one_end_of_the_saw_where_the_handbooks_are_sooner(
    desk: Phone, browser: Browser
) -> None:
    """The phone once went by our own model alone, an hour later than the board."""
    foreman = desk.server.enrol("foreman", f"Wes {uuid.uuid4().hex[:4]}")
    job, name = str(uuid.uuid4()), f"Alder steps {uuid.uuid4().hex[:4]}"
    ours = sawn_by_handbook(foreman, job, name)
    on_board = desk.page.locator(".board-row", has_text=name).locator(".board-cell-next .board-item")
    on_board.wait_for(timeout=15_000)
    phone = Phone(browser, desk.server, engine=False)
    join(phone, "foreman", f"Ana {uuid.uuid4().hex[:4]}")
    phone.go(f"/job/{job}/next-days")
    lead = phone.page.locator(".now-lead .big-time")
    lead.wait_for()
    # Either may still tell of the load as it was before its placing was told.
    wait_until(lambda: on_board.inner_text() == lead.inner_text(), within_s=20)
    head = lead.inner_text()
    assert re.fullmatch(r"Saw by .+[.]", head)
    assert ours not in head.replace("\u00a0", " ")
    desk.go(f"/office/{job}")
    expect(desk.page.get_by_role("region", name="Hours of the concrete")).to_contain_text("counts")
    row = phone.page.get_by_role("region", name="Saw", exact=True).get_by_role("listitem").first
    expect(row).to_contain_text(head.removeprefix("Saw by ").rstrip("."))
    expect(row).to_contain_text("The handbooks end it sooner than our own times.")
    assert faults(phone.page) == []
    phone.close()


@pytest.mark.browser
def test_the_board_is_sorted_filtered_and_searched(desk: Phone) -> None:
    names = desk.page.locator(".board-job")
    head = desk.page.get_by_role("columnheader", name="Job")
    head.get_by_role("button").click()
    expect(head).to_have_attribute("aria-sort", "ascending")
    wait_until(lambda: names.all_inner_texts() == sorted(names.all_inner_texts(), key=str.casefold))
    head.get_by_role("button").click()
    expect(head).to_have_attribute("aria-sort", "descending")
    wait_until(
        lambda: names.all_inner_texts() == sorted(names.all_inner_texts(), key=str.casefold, reverse=True)
    )
    desk.page.get_by_label("Phase").select_option("ready")
    expect(desk.page.get_by_role("link", name="Quarry Rise front walk")).to_be_visible()
    expect(names.filter(has_text="Ferry House pool deck")).to_have_count(0)
    desk.page.get_by_label("Phase").select_option("")
    desk.page.locator("input[type=search]").fill("old ferry")  # by its place
    expect(names).to_have_text(["Ferry House pool deck"])
    desk.page.locator("input[type=search]").fill("no such slab")
    expect(names).to_have_count(0)


@pytest.mark.browser
def test_every_row_leads_to_its_late_item_by_one_press(desk: Phone) -> None:
    rows = desk.page.locator(".board-row")
    for index in range(rows.count()):
        row = rows.nth(index)
        expect(row.locator("a.board-job")).to_have_count(1)
        late = row.locator(".board-standing-late").count() > 0
        if late:
            expect(row.locator("a[href^='#/office/reminder/']")).to_have_count(1)
    links = desk.page.locator("a[href^='#/office/reminder/']")
    assert links.count() >= 1
    links.first.click()
    expect(desk.page.get_by_role("link", name="Back")).to_be_visible()


@pytest.mark.browser
def test_the_board_prints_its_rows_and_none_of_its_controls(desk: Phone) -> None:
    desk.page.emulate_media(media="print")
    expect(desk.page.locator(".board-filters")).to_be_hidden()
    expect(desk.page.locator(".board-row").first).to_be_visible()
    expect(desk.page.get_by_role("link", name="Looking back")).to_be_hidden()


@pytest.mark.browser
def test_a_closed_job_still_shows_its_times_plan_and_log(desk: Phone) -> None:
    """Its times are no part of what a device carries: they come on request."""
    closed = job_named(desk.server, "Weir Cottage pool deck")
    desk.go(f"/office/{closed}")
    hours = desk.page.get_by_role("region", name="Hours of the concrete")
    expect(hours.locator("svg").first).to_be_visible(timeout=15_000)
    expect(desk.page.get_by_role("region", name="Plan").locator("svg")).to_be_visible()
    expect(desk.page.get_by_role("region", name="Reminders")).to_contain_text("closed")
    expect(desk.page.get_by_role("region", name="Log").locator("li").first).to_contain_text("Job closed")
    assert faults(desk.page) == []


@pytest.mark.browser
def test_looking_back_says_in_words_what_its_plots_show(desk: Phone) -> None:
    desk.go("/looking-back")
    expect(desk.page.get_by_text("The first mat went down").first).to_be_visible(timeout=15_000)
    desk.page.locator("select").first.select_option(label="4000 psi, crushed stone, air")
    expect(desk.page.get_by_text("6 closed jobs").first).to_be_visible(timeout=15_000)
    assert faults(desk.page) == []


@pytest.mark.browser
def test_what_is_wrong_with_a_list_is_said_in_spanish_too(browser: Browser, office: Server) -> None:
    desk = Phone(browser, office, 1280, 800, locale="es-MX")
    join(desk, "office", f"Inés {uuid.uuid4().hex[:4]}")
    desk.go("/settings")
    desk.page.locator("input[type=file]").set_input_files(csv(LIST.format(latitude="136.1")))
    expect(desk.page.get_by_text("136.1 no está entre -90 y 90")).to_be_visible()
    desk.close()


@pytest.mark.browser
def test_a_list_is_looked_at_put_right_and_brought_in(desk: Phone) -> None:
    desk.go("/settings")
    field = desk.page.locator("input[type=file]")
    field.set_input_files(csv(LIST.format(latitude="north")))
    expect(desk.page.get_by_role("cell", name="latitude_deg")).to_be_visible()
    field.set_input_files(csv(LIST.format(latitude="36.1")))
    desk.page.get_by_role("button", name="Bring in 1 job").click()
    expect(desk.page.get_by_text("1 job brought in")).to_be_visible()
    desk.go("/board")
    desk.page.get_by_role("link", name="North patio").first.wait_for(timeout=15_000)


@pytest.mark.browser
def test_a_calendar_address_works_until_it_is_ended(desk: Phone) -> None:
    desk.go("/settings")
    desk.page.get_by_role("button", name="Make my calendar address").click()
    address = desk.page.get_by_text("/calendar/").inner_text()
    with urllib.request.urlopen(address, timeout=15) as answer:
        assert answer.read().startswith(b"BEGIN:VCALENDAR")
    desk.page.get_by_role("button", name="End my calendar").first.click()
    desk.page.get_by_role("button", name="End my calendar").last.click()
    expect(desk.page.get_by_text("The address is ended.")).to_be_visible()
    with pytest.raises(urllib.error.HTTPError, match="404"):
        urllib.request.urlopen(address, timeout=15)


def sawn_by_handbook(foreman: Person, job: str, name: str) -> str:
    """A slab open for an early-entry saw: placed 8.3 h ago under a still, grey, even sky, in which the
    handbooks close it 9 h after placing, at any hour of any month, and our model later: when, in words."""
    now = datetime.now(UTC)
    placed, zone = now - timedelta(hours=8.3), ZoneInfo(PLACE["time_zone"])  # type: ignore[arg-type]
    foreman.record(job, "job.opened", {"name": name, **PLACE})
    slab = {"corners": [[0, 0], [8, 0], [8, 6], [0, 6]], "thickness_m": 0.1, "abutting": []}
    foreman.record(
        job,
        "slab.outlined",
        slab | {"insulation_r_m2k_w": 0.1, "ground_temp_c": 21, "solar_absorptivity": 0.65},
    )
    weather = {"low_c": 20.5, "high_c": 21.0, "rh": 0.6, "wind_kmh": 8.0, "cloud": 1.0}
    days = [(now.astimezone(zone).date() + timedelta(days=ahead)).isoformat() for ahead in range(-2, 6)]
    foreman.record(job, "weather.planned", {"days": [weather | {"date": day} for day in days]})
    mix = {"cement_kg_m3": 340, "w_cm": 0.45, "design_strength_mpa": 27.6, "aggregate": "crushed-hard"}
    foreman.record(job, "mix.chosen", mix | {"name": "Plain", "set_factor": 1.0})
    crew = {"people": 4, "crew_name": name, "saw_name": name}  # of its own, in nobody's way
    foreman.record(
        job,
        "crew.assigned",
        crew | {"saw_kind": "early-entry", "saw_length_m": 20, "saw_rate_m_per_min": 1},
    )
    load, batched = str(uuid.uuid4()), instant(placed - timedelta(minutes=40))
    foreman.record(job, "load.ticketed", {"load": load, "number": 1, "batched_at": batched, "volume_m3": 4.8})
    began = instant(placed - timedelta(minutes=20))
    foreman.record(job, "load.placed", {"load": load, "from": began, "to": instant(placed)})

    def closes() -> str | None:
        timeline = (foreman.call("GET", "/api/outlook")["jobs"].get(job) or {}).get("timeline")
        return timeline["loads"][0]["windows"]["saw"]["closes"]["early"] if timeline else None

    wait_until(lambda: closes() is not None, within_s=20)
    early = datetime.fromisoformat(closes() or "")
    assert early > placed + timedelta(hours=9)
    return clock(early, early, zone, "en")


def report_unsent(person: Person, count: int, hours: float) -> None:
    """A sync in which a phone says what it could not send yet, and since when."""
    now = datetime.now(UTC)
    oldest = instant(now - timedelta(hours=hours))
    body = {
        "cursor": 0,
        "events": [],
        "device_time": instant(now),
        "unsent": count,
        "oldest_unsent_at": oldest,
    }
    person.call("POST", "/api/sync", body)


def job_named(server: Server, name: str) -> str:
    events = server.enrol("office", "Ida Brandt").events()
    return next(e["job"] for e in events if e["kind"] == "job.opened" and e["body"]["name"] == name)


def wait_until(so: Callable[[], bool], within_s: float = 10) -> None:
    deadline = time.monotonic() + within_s
    while not so():
        assert time.monotonic() < deadline
        time.sleep(0.1)


def csv(text: str) -> dict[str, object]:
    return {"name": "jobs.csv", "mimeType": "text/csv", "buffer": text.encode()}
