"""Every screen, in both languages and both lights, on phones, a tablet and a desk: readable, reachable."""

import json

import pytest
from playwright.sync_api import Browser
from tests.browser.demo import DemoJobs, join
from tests.browser.judge import runs_over, small_targets, violations
from tests.browser.phones import Phone
from tests.browser.serving import Server

SIZES = {390: 844, 1280: 800}
ALSO_WIDE = {320: 640, 820: 1180}
LIGHTS = ("night", "sun")  # the usual one last
LOCALES = {"en": "en-US", "es": "es-US"}
LISTS = ("forms", "isolation", "slope", "debris", "release", "touch-up")
ROUTES = {
    "crew": [
        "/jobs",
        "/settings",
        "/unsent",
        "/job/{patio}/layout",
        "/job/{patio}/ready",
        "/job/{patio}/pour",
        "/job/{patio}/texture",
        "/job/{deck}/next-days",
        "/job/{deck}/record",
        "/job/{patio}/what-if",
        *(f"/job/{{patio}}/list/{name}" for name in LISTS),
    ],
    "foreman": [
        "/now",
        "/jobs",
        "/new",
        "/settings",
        "/job/{walk}/layout",
        "/job/{walk}/pour-time",
        "/job/{patio}/what-if",
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
        "/office/reminder/{reminder}",
    ],
}


def faults(phone: Phone) -> list[str]:
    """Everything wrong with the screen the phone shows."""
    found = [f"{each['id']}: {each['help']}: {each['where']}" for each in violations(phone.page)]
    found += [f"under 48 px: {each}" for each in small_targets(phone.page)]
    if over := runs_over(phone.page):
        found.append(f"{over} px wider than the window")
    return found


def in_every_light(phone: Phone) -> dict[str, list[str]]:
    """Faults of the screen by light; ends in the light it began with."""
    wrong = {}
    for light in LIGHTS if phone.page.viewport_size == {"width": 390, "height": 844} else LIGHTS[-1:]:
        phone.page.evaluate("(light) => { document.documentElement.dataset.theme = light }", light)
        if found := faults(phone):
            wrong[light] = found
    return wrong


def too_wide(phone: Phone, usual: int) -> dict[int, int]:
    """By how much the screen runs over at the other widths."""
    over = {}
    for width, height in ALSO_WIDE.items():
        phone.page.set_viewport_size({"width": width, "height": height})
        if px := runs_over(phone.page):
            over[width] = px
    phone.page.set_viewport_size({"width": usual, "height": SIZES[usual]})
    return over


@pytest.fixture(scope="session")
def places(demo: tuple[Server, DemoJobs]) -> dict[str, str]:
    """What stands in a route for the ids of jobs, and of a reminder."""
    server, jobs = demo
    [first, *_] = server.enrol("office", "Ada Lind").call("GET", "/api/outlook")["reminders"]
    return {**jobs.__dict__, "reminder": first["id"]}


@pytest.mark.browser
@pytest.mark.parametrize("language", LOCALES)
@pytest.mark.parametrize("role", ROUTES)
@pytest.mark.parametrize("width", SIZES)
def test_every_screen_is_readable_and_reachable(
    browser: Browser,
    demo: tuple[Server, DemoJobs],
    places: dict[str, str],
    role: str,
    width: int,
    language: str,
) -> None:
    phone = Phone(browser, demo[0], width, SIZES[width], LOCALES[language])
    join(phone, role, f"Person {role} {width} {language}")
    wrong: dict[str, object] = {}
    for route in ROUTES[role]:
        phone.go(route.format(**places))
        phone.page.get_by_role("heading", level=1).first.wait_for()
        phone.settle()
        assert phone.page.evaluate("document.documentElement.lang") == language
        if found := in_every_light(phone):
            wrong[route] = found
        if width == 390 and (over := too_wide(phone, width)):
            wrong[f"{route} wide"] = over
    complaints = phone.complaints
    phone.close()
    assert not wrong, json.dumps(wrong, indent=1, ensure_ascii=False)
    assert not complaints
