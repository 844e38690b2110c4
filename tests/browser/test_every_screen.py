"""Every screen, in both languages and both lights, folded and open, on phones, a tablet and a desk."""

import json
from collections.abc import Callable, Iterator

import pytest
from playwright.sync_api import Browser
from tests.browser.demo import DemoJobs, join
from tests.browser.judge import faults_by_state, runs_over, scrolls_away
from tests.browser.phones import Phone
from tests.browser.serving import Server

SIZES = {390: 844, 1280: 800}
ALSO_WIDE = {320: 640, 820: 1180}
LANGUAGES = ("en", "es")
# So many parts behind a button there are at least; fewer means that they are no longer found.
FOLDED_LEAST = {"crew": 10, "foreman": 20, "office": 3}
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


@pytest.fixture(scope="module")
def phones(browser: Browser, demo: tuple[Server, DemoJobs]) -> Iterator[Callable[[str], Phone]]:
    """`phones("crew")` is the one phone of that role; it joins when it is first asked for."""
    joined: dict[str, Phone] = {}

    def of(role: str) -> Phone:
        if role not in joined:
            joined[role] = Phone(browser, demo[0])
            join(joined[role], role, f"Person {role}")
        return joined[role]

    yield of
    for phone in joined.values():
        phone.close()


@pytest.mark.browser
@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("role", ROUTES)
@pytest.mark.parametrize("width", SIZES)
def test_every_screen_is_readable_and_reachable(
    phones: Callable[[str], Phone], places: dict[str, str], role: str, width: int, language: str
) -> None:
    phone = phones(role)
    phone.open_anew()
    phone.page.set_viewport_size({"width": width, "height": SIZES[width]})
    phone.page.add_init_script(f"localStorage.setItem('slabtide.language', '{language}')")
    wrong: dict[str, object] = {}
    opened: set[str] = set()
    for route in ROUTES[role]:
        phone.go(route.format(**places))
        phone.page.get_by_role("heading", level=1).first.wait_for()
        phone.settle()
        assert phone.page.evaluate("document.documentElement.lang") == language
        as_it_comes, _ = faults_by_state(phone.page, folded=False)
        if over := runs_over(phone.page):
            wrong[f"{route} as it comes"] = f"{over} px wider than the window"
        opening, names = faults_by_state(phone.page, folded=True)
        opened.update(f"{route} {name}" for name in names)
        if as_it_comes or opening:
            wrong[route] = as_it_comes | opening
        if away := scrolls_away(phone.page):
            wrong[f"{route} away"] = f"the page scrolls {away} px below the shell"
        if over := runs_over(phone.page):
            wrong[f"{route} open"] = f"{over} px wider than the window"
        if width == 390 and (overs := too_wide(phone, width)):
            wrong[f"{route} wide"] = overs
    assert len(opened) >= FOLDED_LEAST[role], sorted(opened)
    assert not wrong, json.dumps(wrong, indent=1, ensure_ascii=False)
    assert not phone.complaints
