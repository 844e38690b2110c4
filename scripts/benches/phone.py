"""The phone: weight of the shell, start without signal, tick to drawn at 5,000 events, engine, memory."""

import argparse
import gzip
import re
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import partial
from http.server import SimpleHTTPRequestHandler, ThreadingHTTPServer
from pathlib import Path
from threading import Thread
from typing import Any

from playwright.sync_api import BrowserContext, Page, Playwright, sync_playwright
from scripts.demo.phone import event_id, instant
from tests.browser.chromium import launching
from tests.browser.demo import load_demo
from tests.browser.serving import ROOT, Person, Server, build_web

SHELL_BYTES, START_RATIO, TICK_MS, WORK_MS = 90_000, 1.5, 50.0, 1500.0
EVENTS = 5_000
PHONE = {"width": 390, "height": 844}
BLANK = (
    "<!doctype html><html lang=en><meta charset=utf-8><title>Blank</title><h1 data-screen-title>Blank</h1>"
)

# When a screen's heading stood in a frame that was drawn, on the machine's clock.
DRAWN = """
const look = () => {
  if (!document.querySelector('[data-screen-title]')) return requestAnimationFrame(look);
  const note = () => { globalThis.drawnAt = performance.timeOrigin + performance.now(); };
  requestAnimationFrame(() => setTimeout(note));
};
requestAnimationFrame(look);
"""
# From the touch to the frame after the row's mark changed.
TICK = """(row) => new Promise((done, fail) => {
  const began = performance.now();
  const seen = new MutationObserver(() => {
    seen.disconnect();
    requestAnimationFrame(() => setTimeout(() => done(performance.now() - began)));
  });
  seen.observe(row, { attributes: true, attributeFilter: ['aria-checked'] });
  row.click();
  setTimeout(() => fail(new Error('the row did not change')), 5000);
})"""
COUNT = """() => new Promise((done, fail) => {
  const opening = indexedDB.open('slabtide');
  opening.onerror = () => fail(opening.error);
  opening.onsuccess = () => {
    const asked = opening.result.transaction('events').objectStore('events').count();
    asked.onsuccess = () => { opening.result.close(); done(asked.result); };
    asked.onerror = () => fail(asked.error);
  };
})"""
MEASURES = "(name) => performance.getEntriesByName(name).map(({ duration }) => duration)"


@dataclass(frozen=True)
class Figure:
    """One figure and what it should be."""

    name: str
    value: float
    unit: str
    most: float | None = None

    def __str__(self) -> str:
        aim = (
            ""
            if self.most is None
            else f"   at most {self.most:g}: {'ok' if self.value <= self.most else 'NOT MET'}"
        )
        return f"{self.name:<58}{self.value:>10,.1f} {self.unit}{aim}"


def shell_weight() -> Iterator[Figure]:
    """Script of the first load, packed: all that the page names, first words of both languages included."""
    dist = ROOT / "pwa" / "dist"
    page = (dist / "index.html").read_text()
    packed = {path.name: len(gzip.compress(path.read_bytes(), 9)) for path in (dist / "assets").glob("*.js")}
    always = sum(size for name, size in packed.items() if name in page)
    yield Figure("first script, gzip, engine apart", always, "bytes", SHELL_BYTES)
    yield Figure("all script of the page, both languages, gzip", sum(packed.values()), "bytes")
    engine = sum(path.stat().st_size for path in (dist / "engine").rglob("*") if path.is_file())
    yield Figure("the engine and its runtime, fetched behind the usable screen", engine / 1e6, "MB")


@contextmanager
def blank_page() -> Iterator[str]:
    """A static page with one heading on a loopback server of its own; gives its address."""
    with tempfile.TemporaryDirectory() as folder:
        (Path(folder) / "index.html").write_text(BLANK)
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


def opened(playwright: Playwright, profile: Path) -> BrowserContext:
    """A phone that keeps what it holds in `profile`, in a browser process of its own."""
    return playwright.chromium.launch_persistent_context(profile, viewport=PHONE, **launching())


def started_ms(playwright: Playwright, profile: Path, url: str, offline: bool) -> float:
    """In a cold browser, from asking for the page to its first heading drawn."""
    context = opened(playwright, profile)
    context.set_offline(offline)
    page = context.pages[0]
    page.add_init_script(DRAWN)
    asked = time.time()
    page.goto(url)
    until(lambda: bool(page.evaluate("globalThis.drawnAt !== undefined")), "a screen is drawn")
    drawn = float(page.evaluate("globalThis.drawnAt"))
    context.close()
    return drawn - asked * 1000.0


def cold_starts(playwright: Playwright, profile: Path, server: Server, runs: int) -> Iterator[Figure]:
    """The app without signal and a blank page with one, turn about in the same browser and profile."""
    app, blank = [], []
    with blank_page() as empty:
        for _ in range(runs):
            blank.append(started_ms(playwright, profile, empty, offline=False))
            app.append(started_ms(playwright, profile, f"{server.base_url}/", offline=True))
    yield Figure(f"blank page, cold browser, median of {runs}", statistics.median(blank), "ms")
    yield Figure(f"the app without signal, cold browser, median of {runs}", statistics.median(app), "ms")
    ratio = statistics.median(app) / statistics.median(blank)
    yield Figure("the app beside the blank page", ratio, "times", START_RATIO)


def fill_job(person: Person, job: str, count: int) -> None:
    """Adds notes to a job until it has `count` events more, a thousand to a call."""
    began = datetime.now(UTC) - timedelta(hours=1)
    device, author = person.answer["device"]["id"], person.answer["person"]["id"]
    made = [
        one_note(job, began + timedelta(milliseconds=number), number, device, author)
        for number in range(count)
    ]
    for first in range(0, count, 1000):
        body = {"cursor": 0, "events": made[first : first + 1000], "device_time": instant(datetime.now(UTC))}
        answer = person.call("POST", "/api/sync", body)
        assert len(answer["accepted"]) == len(body["events"]), answer["rejected"][:1]


def one_note(job: str, at: datetime, number: int, device: str, author: str) -> dict[str, Any]:
    clock = f"{int(at.timestamp() * 1000):015d}-0000-{device}"
    text = f"Note {number}"
    return {
        **{
            "id": event_id(at, f"{device}{number}"),
            "job": job,
            "kind": "note.written",
            "body": {"text": text},
        },
        **{"at": instant(at), "clock": clock, "device": device, "author": author, "raw_at": None},
    }


def until(seen: Callable[[], bool], what: str, within_s: float = 120, pause_s: float = 0.2) -> None:
    deadline = time.monotonic() + within_s
    while not seen():
        if time.monotonic() > deadline:
            raise SystemExit(f"bench: not within {within_s:g} s: {what}")
        time.sleep(pause_s)


def ticks(page: Page, server: Server, job: str, slow: int) -> Iterator[Figure]:
    """Touch to drawn on a checklist of the job with all those events, without signal."""
    page.goto(f"{server.base_url}/#/job/{job}/list/debris")
    rows = page.get_by_role("checkbox")
    rows.first.wait_for()
    devtools = page.context.new_cdp_session(page)
    for rate in (1, slow):
        devtools.send("Emulation.setCPUThrottlingRate", {"rate": rate})
        times = []
        for turn in range(20):
            page.wait_for_timeout(700)  # a second touch sooner is taken for a wet glove
            times.append(float(rows.nth(turn % rows.count()).evaluate(TICK)))
        aim = TICK_MS if rate == 1 else None
        yield Figure(
            f"tick to drawn, processor as it is / {rate}, median of 20", statistics.median(times), "ms", aim
        )
        yield Figure(f"tick to drawn, processor as it is / {rate}, slowest of 20", max(times), "ms")
    devtools.send("Emulation.setCPUThrottlingRate", {"rate": 1})
    devtools.detach()


def worked_out_again(page: Page, server: Server, job: str, turns: int = 6) -> Iterator[Figure]:
    """Weather notes without signal: from the touch that saves one until the times made with it are kept."""
    page.goto(f"{server.base_url}/#/job/{job}/pour")
    part = page.get_by_role("region", name="Weather on the slab")
    spent = []
    for turn in range(turns):
        air = part.get_by_label("Air", exact=False).and_(part.locator("input")).first
        air.fill(str(80 + turn))
        air.blur()
        known = len(page.evaluate(MEASURES, "slabtide-engine-work"))
        began = time.monotonic()
        part.get_by_role("button", name="Save the reading", exact=True).click()
        until(partial(more_work, page, known), "the engine works the times out", pause_s=0.02)
        spent.append((time.monotonic() - began) * 1000)
        page.wait_for_timeout(700)
    yield Figure(f"from a weather note to its times, median of {turns}", statistics.median(spent), "ms")
    yield Figure(f"from a weather note to its times, slowest of {turns}", max(spent), "ms")


def more_work(page: Page, known: int) -> bool:
    return len(page.evaluate(MEASURES, "slabtide-engine-work")) > known


def engine_times(page: Page) -> Iterator[Figure]:
    """How long the engine took to start, and to work a job's times out again."""
    for name, said, most in (
        ("slabtide-engine-start", "engine ready after its start", None),
        ("slabtide-engine-work", "times worked out again, slowest", WORK_MS),
    ):
        found = page.evaluate(MEASURES, name)
        if not found:
            raise SystemExit(f"bench: the engine left no measure {name}")
        yield Figure(f"{said} ({len(found)} times)", max(found), "ms", most)


def memory(context: BrowserContext, page: Page) -> Iterator[Figure]:
    """What the page's script holds, and what the page's process holds with its workers."""
    heap = page.evaluate("performance.memory.usedJSHeapSize")
    yield Figure("script heap of the page", heap / 1e6, "MB")
    browser = context.browser
    devtools = browser.new_browser_cdp_session() if browser else context.new_cdp_session(page)
    processes = devtools.send("SystemInfo.getProcessInfo")["processInfo"]
    held = [resident_mb(one["id"]) for one in processes if one["type"] == "renderer"]
    yield Figure("largest page process, engine and workers included", max(held), "MB")


def resident_mb(process: int) -> float:
    status = Path(f"/proc/{process}/status").read_text()
    found = re.search(r"VmRSS:\s+(\d+) kB", status)
    return int(found[1]) / 1e3 if found else 0.0


def measure(runs: int, events: int, slow: int) -> Iterator[Figure]:
    yield from shell_weight()
    with (
        tempfile.TemporaryDirectory() as home,
        tempfile.TemporaryDirectory() as profile,
        sync_playwright() as driver,
    ):
        server = Server(Path(home))
        server.command("migrate")
        server.command("keys")
        server.start()
        try:
            yield from measure_pages(driver, server, Path(profile), runs, events, slow)
        finally:
            server.stop()


def measure_pages(
    driver: Playwright, server: Server, profile: Path, runs: int, events: int, slow: int
) -> Iterator[Figure]:
    jobs = load_demo(server)
    fill_job(server.enrol("crew", "Nils Arvo"), jobs.patio, events)
    context = opened(driver, profile)
    page = context.pages[0]
    page.goto(f"{server.base_url}/#/join/{server.invite('foreman')}")
    page.locator("input[autocomplete=name]").fill("Wes Holm")
    page.locator("button[type=submit]").click()
    until(lambda: bool(page.evaluate("navigator.serviceWorker.controller !== null")), "the app is kept")
    until(lambda: int(page.evaluate(COUNT)) >= events, "the events reach the phone")
    until(lambda: bool(page.evaluate(MEASURES, "slabtide-engine-start")), "the engine starts")
    context.set_offline(True)
    yield from ticks(page, server, jobs.patio, slow)
    yield from worked_out_again(page, server, jobs.patio)
    yield from engine_times(page)
    yield from memory(context, page)
    context.close()
    yield from cold_starts(driver, profile, server, runs)


def main() -> None:
    parser = argparse.ArgumentParser(prog="scripts/bench phone", description=__doc__)
    parser.add_argument("--runs", type=int, default=9, help="cold starts of each page (default 9)")
    parser.add_argument("--events", type=int, default=EVENTS, help=f"events on the phone (default {EVENTS})")
    parser.add_argument(
        "--slow", type=int, default=4, help="how many times slower the slow phone is (default 4)"
    )
    asked = parser.parse_args()
    build_web()
    for figure in measure(asked.runs, asked.events, asked.slow):
        print(figure, flush=True)


if __name__ == "__main__":
    main()
