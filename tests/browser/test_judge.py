"""The judge of screens must see what it is there to see."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
from tests.browser.judge import faults_by_state, runs_over, small_targets, violations

GOOD = "<main><h1>Slab</h1><button style='min-width:48px;min-height:48px'>Tick</button></main>"


@pytest.fixture
def page(browser: Browser) -> Iterator[Page]:
    context = browser.new_context(viewport={"width": 390, "height": 844})
    yield context.new_page()
    context.close()


def show(page: Page, body: str) -> None:
    page.set_content(f"<!doctype html><html lang='en'><title>Slab</title>{body}</html>")


def test_a_good_screen_has_no_fault(page: Page) -> None:
    show(page, GOOD)
    assert violations(page) == []
    assert small_targets(page) == []
    assert runs_over(page) == 0


@pytest.mark.parametrize(
    ("body", "rule"),
    [
        ("<main><h1>Slab</h1><input type='text'></main>", "label"),
        (
            "<main><h1>Slab</h1><p style='color:#666;background:#fff'>grey</p></main>",
            "color-contrast-enhanced",
        ),
        (
            "<main><h1>Slab</h1><p style='color:#ccc;background:#fff'>fainter</p></main>",
            "color-contrast-enhanced",
        ),
        (
            "<main><h1>Slab</h1><p style='font-size:24pt;color:#bbb;background:#fff'>large</p></main>",
            "color-contrast-enhanced",
        ),
        ("<main><h1>Slab</h1><img src='data:,'></main>", "image-alt"),
    ],
)
def test_a_fault_is_named(page: Page, body: str, rule: str) -> None:
    show(page, body)
    assert rule in [each["id"] for each in violations(page)]


def test_a_target_too_small_for_a_glove_is_found(page: Page) -> None:
    show(page, GOOD + "<button style='width:47px;height:60px'>x</button>")
    [small] = small_targets(page)
    assert small.startswith("47x60")


def test_a_screen_that_runs_over_is_found(page: Page) -> None:
    show(page, GOOD + "<div style='width:420px'>wide</div>")
    assert runs_over(page) > 0


FIT = "style='min-width:48px;min-height:48px'"
SHADES = (
    "<style>p { color: #000; background: #fff }"
    "[data-theme=night] p { color: #555; background: #000 }</style><p>night</p>"
)
DETAILS = f"<details><summary {FIT}>More</summary><input></details>"
PART = f"""<section><button aria-expanded='false' {FIT} onclick="this.ariaExpanded = true;
 this.insertAdjacentHTML('afterend', '<input type=text>')">Part</button></section>"""
SHEET = f"""<button aria-haspopup='dialog' {FIT}
 onclick="document.querySelector('dialog').showModal()">Sheet</button>
<dialog aria-label='Sheet'><button style='width:40px;height:48px'>x</button></dialog>"""
ALONE = f"""<section><button aria-expanded='false' {FIT} onclick="
 for (const one of document.querySelectorAll('[aria-expanded]')) one.ariaExpanded = one === this
">%s</button></section>"""


def show_by_day(page: Page, body: str) -> None:
    show(page, f"<main><h1>Slab</h1>{body}</main>")
    page.evaluate("document.documentElement.dataset.theme = 'sun'")


def test_a_fault_that_only_the_night_shows_is_found(page: Page) -> None:
    show_by_day(page, SHADES)
    wrong, _ = faults_by_state(page, folded=False)
    assert list(wrong) == ["as it comes, night"]


@pytest.mark.parametrize(
    ("body", "state"),
    [(DETAILS, "all open, sun"), (PART, "all open, sun"), (SHEET, "open: Sheet, sun")],
)
def test_a_fault_in_what_is_folded_is_found(page: Page, body: str, state: str) -> None:
    show_by_day(page, body)
    assert faults_by_state(page, folded=False) == ({}, [])
    assert state in faults_by_state(page, folded=True)[0]


def test_parts_that_close_each_other_are_each_opened(page: Page) -> None:
    show_by_day(page, ALONE % "One" + ALONE % "Two" + ALONE % "Three")
    assert faults_by_state(page, folded=True) == ({}, ["One", "Two", "Three"])


def test_a_fault_in_a_part_that_another_closes_is_found(page: Page) -> None:
    small = "<button style='width:40px;height:48px'>x</button>"
    hidden = "<style>[aria-expanded=false] + * { display: none }</style>"
    parts = "".join((ALONE % name).replace("</section>", f"{small}</section>") for name in ("One", "Two"))
    show_by_day(page, hidden + parts)
    wrong, _ = faults_by_state(page, folded=True)
    assert {"open: One, sun", "open: Two, sun"} <= set(wrong)
