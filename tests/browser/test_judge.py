"""The judge of screens must see what it is there to see."""

from collections.abc import Iterator

import pytest
from playwright.sync_api import Browser, Page
from tests.browser.judge import runs_over, small_targets, violations

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
