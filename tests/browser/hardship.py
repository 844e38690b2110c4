"""What a phone goes through on a slab: a slow processor, a wrong clock, a slow link, the app killed."""

from collections.abc import Iterator
from contextlib import contextmanager, suppress
from datetime import timedelta

from playwright.sync_api import Error
from tests.browser.phones import Phone

# Every clock a page can read is off by the same, as when the phone's own is.
CLOCK = """(by) => {
  const Real = Date, origin = performance.timeOrigin;
  const reading = () => Real.now() + by;
  globalThis.Date = new Proxy(Real, {
    construct: (target, given, made) => Reflect.construct(target, given.length ? given : [reading()], made),
    apply: () => new Real(reading()).toString(),
    get: (target, name) => (name === 'now' ? reading : Reflect.get(target, name)),
  });
  Object.defineProperty(performance, 'timeOrigin', { get: () => origin + by });
}"""

# The answer to a sync comes after more than ten seconds, until the link is called good.
SLOW_LINK = """(() => {
  const real = globalThis.fetch;
  globalThis.fetch = async (...given) => {
    const answer = await real(...given);
    const slow = String(given[0]).includes('/api/sync') && localStorage.getItem('link') !== 'good';
    if (slow) await new Promise((done) => setTimeout(done, 10_500));
    return answer;
  };
})()"""


def clock_off_by(by: timedelta) -> str:
    """A script that makes a page's clock fast (or slow, below zero)."""
    return f"({CLOCK})({by.total_seconds() * 1000:.0f})"


@contextmanager
def slowed(phone: Phone, times: int) -> Iterator[None]:
    """Makes the page's processor this many times slower while it is worked on.

    Not while it lies idle: the browser slows a page by keeping its core busy, whether it has work or not.
    """
    devtools = phone.context.new_cdp_session(phone.page)
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": times})
    yield
    devtools.detach()


def crash(phone: Phone) -> None:
    """Ends the page's process under it."""
    with phone.page.expect_event("crash"), suppress(Error):
        phone.page.goto("chrome://crash")


def shut(phone: Phone) -> None:
    """The system ends the app: no unload, no last word."""
    phone.page.close(run_before_unload=False)


def reopen(phone: Phone) -> None:
    """Opens the app again, with what the phone kept."""
    old = phone.page
    phone.take(phone.context.new_page())
    phone.page.set_default_timeout(60_000)
    if not old.is_closed():
        old.close()
    phone.go("/")
