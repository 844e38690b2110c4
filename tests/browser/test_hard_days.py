"""What a phone meets in the field: a network that answers for the server, a full phone, a wrong entry."""

import re
from collections.abc import Callable

import pytest
from tests.browser.acting import fill, press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.imposter import ANSWERS, in_place_of_server
from tests.browser.phones import Phone
from tests.browser.pour import tick, ticks_shown, wait_for_sync_line
from tests.browser.serving import Person, Server

pytestmark = pytest.mark.browser
JOB = "01980000-0000-7000-8000-000000000001"
ITEMS = (
    "Forms match the plan",
    "Stakes driven",
    "Braced at joints",
    "Kickers set",
    "Form faces oiled",
    "Base compacted",
    "Base damp",
    "Steel or mesh",
)


@pytest.fixture
def crew(open_phone: OpenPhone, server: Server) -> Phone:
    """A crew phone that holds one job and works without a signal."""
    open_job(server.enrol("foreman", "Wes Holm"))
    phone = open_phone(engine=False)
    join(phone, "crew", "Luis Ortega")
    phone.page.get_by_role("link", name=re.compile("Lark Hill")).wait_for()
    return phone


def open_job(foreman: Person) -> None:
    """A job with its slab, by the foreman's own phone."""
    here = {"latitude_deg": 38, "longitude_deg": -90, "time_zone": "America/Chicago"}
    corners = [[0, 0], [9, 0], [9, 9], [0, 9]]
    slab = {"corners": corners, "thickness_m": 0.115, "insulation_r_m2k_w": 0, "ground_temp_c": 18}
    foreman.record(JOB, "job.opened", {"name": "Lark Hill patio", "use": "patio", **here})
    foreman.record(JOB, "slab.outlined", {**slab, "solar_absorptivity": 0.65, "abutting": []})


def test_whoever_answers_in_the_servers_place_the_outbox_keeps_its_work(crew: Phone, server: Server) -> None:
    server.stop()
    for number, (answer, item) in enumerate(zip(ANSWERS, ITEMS, strict=True), 1):
        with in_place_of_server(server.port, answer) as asked:
            tick(crew, JOB, "forms", item)
            send_now(crew)  # it tries ever more rarely by itself
            wait_until(crew, lambda asked=asked: "/api/sync" in asked, f"the phone to try: {answer.name}")
            crew.page.wait_for_timeout(300)  # for the answer to be read
            wait_for_sync_line(crew, re.compile(rf"\b{number}\b"))
    server.start()
    send_now(crew)
    wait_for_sync_line(crew, "All sent.")
    kept = server.enrol("office", "Ida Brandt").events()
    assert sum(event["kind"] == "item.ticked" for event in kept) == len(ITEMS)


def send_now(phone: Phone) -> None:
    phone.go("/unsent")
    press(phone.page, "Send now")


def wait_until(phone: Phone, seen: Callable[[], bool], what: str) -> None:
    for _ in range(150):
        if seen():
            return
        phone.page.wait_for_timeout(100)
    raise AssertionError(f"in vain waited for {what}")


def test_a_full_phone_says_so_and_never_shows_a_tick_it_could_not_keep(crew: Phone) -> None:
    crew.go(f"/job/{JOB}/list/forms")
    crew.page.get_by_role("checkbox").first.wait_for()
    fill_up(crew)
    crew.page.get_by_role("checkbox", name=re.compile("^Stakes driven")).click()
    crew.page.get_by_role("alert").filter(has_text=re.compile("full|not saved|did not save")).first.wait_for()
    free_up(crew)
    crew.page.reload()
    assert not any(done for _, done in ticks_shown(crew, JOB, "forms"))
    tick(crew, JOB, "forms", "Stakes driven")
    crew.page.reload()
    assert sum(done for _, done in ticks_shown(crew, JOB, "forms")) == 1


FULL = """() => {
  const real = { put: IDBObjectStore.prototype.put, add: IDBObjectStore.prototype.add };
  const refuse = () => { throw new DOMException('The phone is full.', 'QuotaExceededError'); };
  Object.assign(IDBObjectStore.prototype, { put: refuse, add: refuse });
  window.freeUp = () => Object.assign(IDBObjectStore.prototype, real);
}"""


def fill_up(phone: Phone) -> None:
    """From now on every write to the phone's database is refused, as when its storage is used up."""
    phone.page.evaluate(FULL)


def free_up(phone: Phone) -> None:
    phone.page.evaluate("window.freeUp()")


IMPOSSIBLE = {
    "Volume": ("60", "No truck carries that", "7"),
    "Concrete temperature": ("190", "never that hot", "75"),
    "Slump": ("40", "The cone is not that tall", "4"),
    "Water added on site": ("-5", "Water can’t be negative", "2"),
}


def test_an_impossible_load_is_refused_at_each_field_in_words(crew: Phone, server: Server) -> None:
    page = crew.page
    crew.go(f"/job/{JOB}/pour")
    press(page, "Log a load")
    fill(page, "Volume", "7")
    press(page, "Save load 1")
    page.get_by_role("alert").filter(has_text="Enter the batch time").wait_for()
    press(page, "20 min ago")
    for field, (impossible, words, possible) in IMPOSSIBLE.items():
        fill(page, field, impossible)
        press(page, "Save load 1")
        page.get_by_role("alert").filter(has_text=words).wait_for()
        page.get_by_role("alert").filter(has_text="Not saved yet").wait_for()
        fill(page, field, possible)
        page.get_by_role("alert").filter(has_text=words).wait_for(state="detached")
    observer = server.enrol("office", "Ida Brandt")
    assert not [event for event in observer.events() if event["kind"] == "load.ticketed"]
    press(page, "Save load 1")
    wait_for_sync_line(crew, "All sent.")
    wait_until(crew, lambda: "load.ticketed" in {each["kind"] for each in observer.events()}, "the load")
