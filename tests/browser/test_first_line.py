"""With a signal and a reminder up, what to do next is still the first line, and the rest is left free."""

import re
from collections.abc import Iterator
from datetime import UTC, datetime, timedelta

import pytest
from playwright.sync_api import Browser
from tests.browser.demo import DemoJobs, join
from tests.browser.phones import Phone
from tests.browser.serving import Server

pytestmark = pytest.mark.browser

LEAST_FREE = 0.7
ONE_LINE_PX = 52
NEXT = ".now-lead, .next-line"
ROUTES = ["/job/{patio}/pour", "/job/{patio}/texture", "/job/{deck}/next-days", "/job/{walk}/ready", "/now"]

# What stands on the screen, from top to bottom; the first block under the title is what comes next.
PLACES = """(next) => {
  const box = (one) => one.getBoundingClientRect();
  const body = document.querySelector('.look-screen-body');
  return {
    bars: [...document.querySelectorAll('.look-bar')].map((bar) => Math.round(box(bar).height)),
    first: body.firstElementChild.matches(next) || body.firstElementChild.firstElementChild.matches(next),
    top: box(document.querySelector(next)).top,
    bottom: box(document.querySelector(next)).bottom,
    foot: box(document.querySelector('.shell-foot')).top,
    height: innerHeight,
  };
}"""


def when_both_are_up(server: Server, jobs: DemoJobs) -> datetime:
    """The first moment from now on when a bay's texture window is open and a reminder is due that goes to any
    foreman at once: texture is the other bar's, and much of the pour's day goes to its lead first."""
    outlook = server.enrol("foreman", "Wes Holm").call("GET", "/api/outlook")
    loads = outlook["jobs"][jobs.patio]["timeline"]["loads"]
    windows = [load["windows"]["texture"] for load in loads]
    open_at = [(moment(one["opens"]["likely"]), moment(one["closes"]["likely"])) for one in windows]
    settled = ("acknowledged", "cancelled", "missed")
    due_at = [
        (moment(one["due"]), moment(one["expires"]))
        for one in outlook["reminders"]
        if one["state"] not in settled
        and one["what"] != "texture"
        and (one["stage"] == "last_call" or one["what"] in ("wash", "colour", "seal"))
    ]
    both = [
        (max(datetime.now(UTC), opens, due), min(closes, expires))
        for opens, closes in open_at
        for due, expires in due_at
    ]
    return min(start for start, end in both if start + timedelta(minutes=2) < end) + timedelta(minutes=1)


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text)


@pytest.fixture(scope="module", params=["en-US", "es-US"])
def foreman(
    browser: Browser, demo: tuple[Server, DemoJobs], request: pytest.FixtureRequest
) -> Iterator[tuple[Phone, DemoJobs]]:
    """Beside the slab without a signal, at a moment when both bars are up."""
    server, jobs = demo
    phone = Phone(browser, server, locale=request.param, engine=False)
    join(phone, "foreman", "Wes Holm")  # the lead, to whom reminders go first
    phone.go(f"/job/{jobs.patio}/texture")
    phone.page.locator(".tide").first.wait_for()
    phone.context.set_offline(True)
    phone.page.clock.set_fixed_time(when_both_are_up(server, jobs))
    # On a slow machine the window may have opened on the way here, and its line been given: each comes once.
    phone.page.evaluate("localStorage.removeItem('slabtide.signalled')")
    phone.page.reload()
    phone.page.locator(".look-bar").nth(1).wait_for()
    yield phone, jobs
    phone.close()


@pytest.mark.parametrize("route", ROUTES)
def test_what_to_do_next_is_the_first_line_with_most_of_the_phone_free(
    foreman: tuple[Phone, DemoJobs], route: str
) -> None:
    phone, jobs = foreman
    phone.go(route.format(**jobs.__dict__))
    phone.page.locator(NEXT).first.wait_for()
    phone.settle()
    seen = phone.page.evaluate(PLACES, NEXT)
    assert len(seen["bars"]) >= 2
    assert max(seen["bars"]) <= ONE_LINE_PX
    assert seen["first"]
    assert seen["bottom"] <= seen["foot"]
    assert (seen["foot"] - seen["top"]) / seen["height"] >= LEAST_FREE, seen


def test_a_touch_on_a_line_opens_it_whole_and_another_folds_it(foreman: tuple[Phone, DemoJobs]) -> None:
    phone, jobs = foreman
    phone.go(f"/job/{jobs.patio}/texture")
    phone.page.locator(NEXT).first.wait_for()
    for bar in phone.page.locator(".look-bar").all():
        line = bar.locator(".look-bar-words")
        assert line.get_attribute("aria-expanded") == "false"
        line.click()
        words = bar.locator(".look-bar-body").inner_text()
        assert len(words) > len(line.inner_text())
        assert re.search(r"\d", words)
        line.click()
        bar.locator(".look-bar-body").wait_for(state="detached")
