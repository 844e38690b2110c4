"""Every screen, in both languages, on a phone and on a desk: readable, reachable, large enough."""

import json

import pytest
from playwright.sync_api import Browser
from tests.browser.demo import DemoJobs, join
from tests.browser.judge import runs_over, small_targets, violations
from tests.browser.phones import Phone
from tests.browser.serving import Server

SIZES = {390: 844, 1280: 800}
LOCALES = {"en": "en-US", "es": "es-US"}
LISTS = ("forms", "isolation", "slope", "debris", "release", "touch-up")
ROUTES = {
    "crew": [
        "/jobs",
        "/settings",
        "/job/{patio}/layout",
        "/job/{patio}/ready",
        "/job/{patio}/pour",
        "/job/{patio}/texture",
        "/job/{deck}/next-days",
        "/job/{deck}/record",
        *(f"/job/{{patio}}/list/{name}" for name in LISTS),
    ],
    "foreman": [
        "/now",
        "/jobs",
        "/settings",
        "/job/{walk}/layout",
        "/job/{patio}/pour",
        "/job/{deck}/next-days",
    ],
    "office": [
        "/board",
        "/looking-back",
        "/jobs",
        "/settings",
        "/office/{patio}",
        "/office/{deck}",
        "/office/{walk}",
    ],
}


def faults(phone: Phone) -> list[str]:
    """Everything wrong with the screen the phone shows."""
    found = [f"{each['id']}: {each['help']}: {each['where']}" for each in violations(phone.page)]
    found += [f"under 48 px: {each}" for each in small_targets(phone.page)]
    if over := runs_over(phone.page):
        found.append(f"{over} px wider than the window")
    return found


@pytest.mark.browser
@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("role", ROUTES)
@pytest.mark.parametrize("width", SIZES)
def test_every_screen_is_readable_and_reachable(
    browser: Browser, demo: tuple[Server, DemoJobs], role: str, width: int, language: str
) -> None:
    server, jobs = demo
    phone = Phone(browser, server, width, SIZES[width], LOCALES[language])
    join(phone, role, f"Person {role} {width} {language}")
    wrong = {}
    for route in ROUTES[role]:
        phone.go(route.format(**jobs.__dict__))
        phone.page.get_by_role("heading", level=1).first.wait_for()
        phone.settle()
        assert phone.page.evaluate("document.documentElement.lang") == language
        if found := faults(phone):
            wrong[route] = found
    complaints = phone.complaints
    phone.close()
    assert not wrong, json.dumps(wrong, indent=1, ensure_ascii=False)
    assert not complaints


@pytest.mark.browser
@pytest.mark.parametrize("language", LOCALES)
def test_the_narrowest_phone_shows_everything_without_sideways_scrolling(
    browser: Browser, demo: tuple[Server, DemoJobs], language: str
) -> None:
    server, jobs = demo
    phone = Phone(browser, server, 320, 640, LOCALES[language])
    join(phone, "crew", f"Narrow {language}")
    over = {}
    for route in ROUTES["crew"]:
        phone.go(route.format(**jobs.__dict__))
        phone.page.get_by_role("heading", level=1).first.wait_for()
        phone.settle()
        if px := runs_over(phone.page):
            over[route] = px
    phone.close()
    assert not over
