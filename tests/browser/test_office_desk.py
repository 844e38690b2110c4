"""The office's desk: a live board, each late item one press away, jobs from a list, a calendar to take."""

import time
import urllib.error
import urllib.request
import uuid
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, expect
from tests.browser.demo import join, load_demo
from tests.browser.phones import Phone
from tests.browser.serving import Server
from tests.browser.test_every_screen import faults

LIVE_S = 5.0
LIST = "name,latitude_deg,longitude_deg,time_zone\nNorth patio,{latitude},-79.95,America/New_York\n"
PLACE = {"latitude_deg": 36.1, "longitude_deg": -79.95, "time_zone": "America/New_York", "use": "patio"}


@pytest.fixture(scope="module")
def office(web: None, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Server]:
    """A demo company of its own, since these add to it."""
    running = Server(tmp_path_factory.mktemp("office"))
    running.command("migrate")
    running.start()
    load_demo(running)
    yield running
    running.stop()


@pytest.fixture
def desk(browser: Browser, office: Server) -> Phone:
    phone = Phone(browser, office, 1280, 800)
    join(phone, "office", f"Kim {uuid.uuid4().hex[:4]}")
    phone.go("/board")
    phone.page.locator(".board-row").first.wait_for()
    return phone


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
    desk.close()


@pytest.mark.browser
def test_what_is_next_is_one_press_from_its_whole_life(desk: Phone) -> None:
    desk.page.locator("a[href^='#/office/reminder/']").first.click()
    steps = desk.page.locator(".office-log > li")
    steps.first.wait_for()
    expect(steps.first).to_contain_text("Planned")
    assert faults(desk) == []
    desk.close()


@pytest.mark.browser
def test_the_slash_and_the_arrows_move_over_the_board(desk: Phone) -> None:
    desk.page.keyboard.press("/")
    expect(desk.page.locator("input[type=search]")).to_be_focused()
    first = desk.page.locator(".board-job").first
    first.focus()
    desk.page.keyboard.press("ArrowDown")
    expect(desk.page.locator(".board-job").nth(1)).to_be_focused()
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
    desk.close()


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
    desk.close()


def csv(text: str) -> dict[str, object]:
    return {"name": "jobs.csv", "mimeType": "text/csv", "buffer": text.encode()}
