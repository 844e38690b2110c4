"""Cold starts: a browser process of its own for each, in a profile that keeps what the phone keeps."""

import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

from playwright.sync_api import BrowserContext, Playwright
from scripts.benches.one_phone.figures import Figure
from tests.browser.chromium import launching

RATIO = 1.5
PHONE = {"width": 390, "height": 844}
BLANK = (
    "<!doctype html><html lang=en><meta charset=utf-8><title>Blank</title><h1 data-screen-title>Blank</h1>"
)
KEPT = BLANK + "<script>navigator.serviceWorker.register('/sw.js')</script>"
# The least a service worker can be that answers without signal.
WORKER = """
addEventListener('install', (event) => { skipWaiting();
  event.waitUntil(caches.open('kept').then((shelf) => shelf.add('/'))); });
addEventListener('activate', (event) => event.waitUntil(clients.claim()));
addEventListener('fetch', (event) => { if (event.request.mode === 'navigate')
  event.respondWith(caches.match('/', { cacheName: 'kept' })); });
"""
# When a screen's heading stood in a frame that was drawn, and when the app's own script had drawn a screen
# over it, on the machine's clock.
DRAWN = """
const when = (seen, note) => {
  const look = () => {
    if (!seen()) return requestAnimationFrame(look);
    requestAnimationFrame(() => setTimeout(() => note(performance.timeOrigin + performance.now())));
  };
  requestAnimationFrame(look);
};
when(() => document.querySelector('[data-screen-title]'), (at) => { globalThis.drawnAt = at; });
when(() => document.querySelector('#shell-main [data-screen-title]'), (at) => { globalThis.aliveAt = at; });
"""


def opened(playwright: Playwright, profile: Path) -> BrowserContext:
    """A phone that keeps what it holds in `profile`, in a browser process of its own."""
    return playwright.chromium.launch_persistent_context(profile, viewport=PHONE, **launching())


def until(seen: Callable[[], bool], what: str, within_s: float = 120, pause_s: float = 0.2) -> None:
    """Waits for something, or ends the bench."""
    deadline = time.monotonic() + within_s
    while not seen():
        if time.monotonic() > deadline:
            raise SystemExit(f"bench: not within {within_s:g} s: {what}")
        time.sleep(pause_s)


def cold_starts(playwright: Playwright, profile: Path, url: str, runs: int) -> Iterator[Figure]:
    """The app without signal and blank pages, turn about in the same browser and profile."""
    app, alive, blank, kept = [], [], [], []
    with blank_page(BLANK) as empty, blank_page(KEPT) as own:
        keep(playwright, profile, own)
        started_ms(playwright, profile, url, offline=True)  # what a browser makes of a profile once
        for _ in range(runs):
            blank.append(started_ms(playwright, profile, empty, offline=False)[0])
            kept.append(started_ms(playwright, profile, own, offline=True)[0])
            drawn, taken_over = started_ms(playwright, profile, url, offline=True, wants="aliveAt")
            app.append(drawn)
            alive.append(taken_over)
    middle = statistics.median
    yield Figure(f"blank page from its server, cold browser, median of {runs}", middle(blank), "ms")
    yield Figure("blank page without signal, from the least service worker", middle(kept), "ms")
    yield Figure("the app without signal: job list drawn, its links live", middle(app), "ms")
    yield Figure("the app without signal: its own script has drawn", middle(alive), "ms")
    yield Figure("the app beside the blank page from its server", middle(app) / middle(blank), "times", RATIO)
    yield Figure("the app beside the blank page without signal", middle(app) / middle(kept), "times")


def started_ms(
    playwright: Playwright, profile: Path, url: str, offline: bool, wants: str = "drawnAt"
) -> tuple[float, float]:
    """In a cold browser, from asking for the page to its first heading drawn, and to `wants`."""
    context = opened(playwright, profile)
    context.set_offline(offline)
    page = context.pages[0]
    page.add_init_script(DRAWN)
    asked = time.time() * 1000.0
    page.goto(url)
    until(lambda: bool(page.evaluate(f"globalThis.{wants} !== undefined")), "a screen is drawn", pause_s=0.4)
    drawn, wanted = (float(page.evaluate(f"globalThis.{name}")) for name in ("drawnAt", wants))
    context.close()
    return drawn - asked, wanted - asked


def keep(playwright: Playwright, profile: Path, url: str) -> None:
    """Opens a page until its service worker answers for it."""
    context = opened(playwright, profile)
    page = context.pages[0]
    page.goto(url)
    until(lambda: bool(page.evaluate("navigator.serviceWorker.controller !== null")), "the page is kept")
    context.close()


@contextmanager
def blank_page(page: str) -> Iterator[str]:
    """A static page with one heading on a loopback server of its own; gives its address."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "index.html").write_text(page)
        (Path(folder) / "sw.js").write_text(WORKER)
        server = ThreadingHTTPServer(("127.0.0.1", 0), partial(Quiet, directory=folder))
        thread = Thread(target=server.serve_forever, daemon=True)
        thread.start()
        yield f"http://127.0.0.1:{server.server_port}/"
        server.shutdown()
        thread.join()


class Quiet(SimpleHTTPRequestHandler):
    """Serves a folder and says nothing."""

    def log_message(self, format: str, *args: Any) -> None:
        """Nothing."""
