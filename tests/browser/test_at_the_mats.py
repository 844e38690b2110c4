"""Beside the slab, gloves wet: a check is two touches, a bay that opens says so once, pins are walked."""

import re
from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser
from tests.browser.acting import BOUNCE_MS, drop_pin, press
from tests.browser.demo import DemoJobs, join, texture_opens
from tests.browser.judge import small_targets, violations
from tests.browser.phones import Phone
from tests.browser.serving import Server

CARE = {
    "/job/{patio}/pour": ["Wet concrete burns"],
    "/job/{patio}/texture": ["Wet concrete burns", "Release powder is fine dust"],
    "/job/{patio}/list/release": ["Release powder is fine dust"],
    "/job/{patio}/list/touch-up": ["Wet concrete burns"],
    "/job/{deck}/next-days": [
        "Saw",
        "Silica dust harms the lungs",
        "Keep wash water out of drains",
        "Solvent vapor burns and harms",
    ],
}
COUNT_TOUCHES = (
    "addEventListener('click', () => { globalThis.touches = (globalThis.touches ?? 0) + 1 }, true)"
)
CHECK_SECONDS = 5.0


@pytest.fixture(scope="module")
def anas(browser: Browser, own_demo: tuple[Server, DemoJobs]) -> Iterator[Phone]:
    """The phone that all but one of these tests take in hand, one after another."""
    phone = Phone(browser, own_demo[0])
    phone.context.add_init_script(COUNT_TOUCHES)
    join(phone, "crew", "Ana Ruiz")
    yield phone
    phone.close()


@pytest.fixture
def crew(anas: Phone, own_demo: tuple[Server, DemoJobs]) -> tuple[Phone, DemoJobs]:
    anas.open_anew()
    return anas, own_demo[1]


@pytest.fixture
def alone(browser: Browser, own_demo: tuple[Server, DemoJobs]) -> Iterator[tuple[Phone, DemoJobs]]:
    """A phone whose clock and signal are its test's own."""
    phone = Phone(browser, own_demo[0], engine=False)
    join(phone, "crew", "Bea Lund")
    yield phone, own_demo[1]
    phone.close()


def at_the_mats(phone: Phone, jobs: DemoJobs) -> None:
    phone.go(f"/job/{jobs.patio}/texture")
    phone.page.get_by_role("button", name="Check the surface").wait_for()
    phone.settle()


@pytest.mark.browser
def test_a_check_takes_two_touches_and_shows_what_it_changed(crew: tuple[Phone, DemoJobs]) -> None:
    phone, jobs = crew
    at_the_mats(phone, jobs)
    phone.page.evaluate("globalThis.touches = 0")
    began = phone.page.evaluate("performance.now()")
    press(phone.page, "Check the surface")
    press(phone.page.get_by_role("dialog"), "Mat prints clean")
    phone.page.get_by_text("Noted.", exact=True).wait_for()
    assert phone.page.evaluate("performance.now()") - began < CHECK_SECONDS * 1000
    assert phone.page.evaluate("globalThis.touches") == 2
    lesson = phone.page.get_by_role("dialog").get_by_text(re.compile(r"Texture of load \d closes"))
    lesson.wait_for(timeout=60_000)
    press(phone.page.get_by_role("dialog"), "Back to work")
    phone.page.get_by_role("dialog").wait_for(state="detached")
    phone.page.get_by_role("region", name="Surface checks").get_by_text("Mat prints clean").first.wait_for()
    assert phone.complaints == []


@pytest.mark.browser
def test_a_wet_glove_that_touches_twice_notes_one_check(crew: tuple[Phone, DemoJobs]) -> None:
    phone, jobs = crew
    at_the_mats(phone, jobs)
    press(phone.page, "Check the surface")
    both = (
        "for (const key of document.querySelectorAll('.check-key')) if (key.textContent === 'Paste sticks')"
    )
    phone.page.evaluate(f"{both} {{ key.click(); key.click(); }}")
    phone.page.get_by_text("Noted.", exact=True).wait_for()
    press(phone.page.get_by_role("dialog"), "Back to work")
    noted = phone.page.get_by_role("region", name="Surface checks").get_by_text("Paste sticks.")
    noted.first.wait_for()
    phone.page.wait_for_timeout(500)
    assert noted.count() == 1


@pytest.mark.browser
def test_the_sheet_can_be_read_and_hit(crew: tuple[Phone, DemoJobs]) -> None:
    phone, jobs = crew
    at_the_mats(phone, jobs)
    press(phone.page, "Check the surface")
    assert violations(phone.page) == []
    assert small_targets(phone.page) == []
    phone.page.keyboard.press("Escape")
    phone.page.get_by_role("dialog").wait_for(state="detached")


@pytest.mark.browser
def test_a_bay_that_opens_is_told_once_also_without_a_signal(alone: tuple[Phone, DemoJobs]) -> None:
    """At the minute its window opens; what opened is kept through a reload."""
    phone, jobs = alone
    at_the_mats(phone, jobs)
    phone.context.set_offline(True)
    phone.page.clock.set_fixed_time(texture_opens(phone.server, jobs.patio))
    told = phone.page.get_by_role("status").get_by_text(re.compile("ready, to |closing, "))
    # In one step: the open page would write it anew.
    with phone.page.expect_event("load"):
        phone.page.evaluate("localStorage.removeItem('slabtide.signalled'); location.reload()")
    at_the_mats(phone, jobs)
    told.first.wait_for(timeout=20_000)
    phone.page.get_by_role("button", name=re.compile("^Got it: ")).first.click()
    phone.page.reload()
    at_the_mats(phone, jobs)
    phone.page.wait_for_timeout(1_500)
    kept = phone.page.evaluate("Object.keys(JSON.parse(localStorage.getItem('slabtide.signalled')))")
    assert any(name.endswith(("/opens", "/closing")) for name in kept)
    assert told.all_inner_texts() == []


@pytest.mark.browser
def test_a_pin_gets_an_owner_and_a_place_in_the_walk(crew: tuple[Phone, DemoJobs]) -> None:
    phone, jobs = crew
    phone.go(f"/job/{jobs.patio}/list/touch-up")
    drop_pin(phone.page, 120, 150)
    walk = phone.page.get_by_role("region", name="The walk, in order")
    owner = walk.get_by_label(re.compile("^Owner of "))
    owner.select_option(label="Ana Ruiz")
    phone.page.get_by_text(re.compile(r"^Pin \d+ goes to Ana Ruiz$")).wait_for()
    assert walk.get_by_text(re.compile(r"From the edge\.|Step to it\.|From a mat|Needs a board")).count() == 1
    phone.page.wait_for_timeout(BOUNCE_MS)
    press(walk, re.compile("^Done: "))
    walk.get_by_text("No pin is open.").wait_for()
    assert phone.complaints == []


@pytest.mark.browser
def test_one_plan_takes_pins_but_for_the_moment_in_which_the_way_out_is_asked_for(
    crew: tuple[Phone, DemoJobs],
) -> None:
    phone, jobs = crew
    page = phone.page
    phone.go(f"/job/{jobs.patio}/list/touch-up")
    plan = page.get_by_role("application")
    drop_pin(page, 200, 150)
    walk = page.get_by_role("region", name="The walk, in order")
    out = walk.get_by_role("status").filter(has_text="You leave by")
    before = out.inner_text()
    page.wait_for_timeout(BOUNCE_MS)
    press(walk, "Choose the way out")
    asked = page.get_by_role("heading", name="Which side do you leave by?")
    asked.wait_for()
    assert page.locator(".plan-drawing").count() == 1
    assert plan.count() == 0
    assert violations(page) == []
    assert small_targets(page) == []
    page.wait_for_timeout(BOUNCE_MS)
    drawn = page.locator(".plan-drawing")
    box = drawn.bounding_box()
    assert box
    sides = walk.get_by_role("button", name=re.compile("^Side "))
    [left] = [i for i in range(sides.count()) if sides.nth(i).get_attribute("aria-pressed") == "true"]
    spots = [(box["width"] / 2, 30), (30, box["height"] / 2), (box["width"] - 30, box["height"] / 2)]
    for x, y in spots:
        drawn.click(position={"x": x, "y": y})
        plan.wait_for()  # it takes pins again by itself
        if out.inner_text() != before:
            break
        page.wait_for_timeout(BOUNCE_MS)
        press(walk, "Choose the way out")
        page.wait_for_timeout(BOUNCE_MS)
    assert out.inner_text() != before
    assert page.get_by_role("button", name="Drop the pin").count() == 0
    assert page.evaluate("document.activeElement.textContent") == "Choose the way out"
    page.wait_for_timeout(BOUNCE_MS)
    press(walk, f"Back to side {left + 1}")
    assert out.inner_text() == before
    assert phone.complaints == []


@pytest.mark.browser
@pytest.mark.parametrize("route", CARE)
def test_care_stands_where_the_work_is_done_and_defers_to_local_rules(
    crew: tuple[Phone, DemoJobs], route: str
) -> None:
    phone, jobs = crew
    phone.go(route.format(**jobs.__dict__))
    phone.page.get_by_role("heading", level=1).wait_for()
    notes = phone.page.get_by_role("note")
    for title in CARE[route]:
        note = notes.filter(has=phone.page.get_by_text(title, exact=True)).first
        note.get_by_text("Local rules and the product’s own sheet come first.").wait_for()
