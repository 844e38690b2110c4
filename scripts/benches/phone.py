"""The phone: weight of the shell, start without signal, tick to drawn at 5,000 events, engine, memory."""

import argparse
import gzip
import os
import re
import statistics
import tempfile
import time
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from functools import partial
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from playwright.sync_api import Page, Playwright, sync_playwright
from scripts.benches.one_phone.figures import Figure, summary
from scripts.benches.one_phone.slower import page_process, resident_mb, slower, worked_s
from scripts.benches.one_phone.starts import cold_starts, opened, until
from scripts.demo.jobs import PLACE
from scripts.demo.phone import event_id, instant
from tests.browser.acting import fill, press
from tests.browser.demo import load_demo
from tests.browser.serving import ROOT, Person, Server, build_web

SHELL_BYTES, TICK_MS, WORK_MS = 90_000, 50.0, 1500.0
EVENTS = 5_000
TURNS = 3
PLACED = 2  # loads that lie there in the demo's patio

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
ENDED = """(name) => {
  const { startTime, duration } = performance.getEntriesByName(name).at(-1);
  return performance.timeOrigin + startTime + duration;
}"""
MEASURES = "(name) => performance.getEntriesByName(name).map(({ duration }) => duration)"


def shell_weight() -> Iterator[Figure]:
    """Script of the first load, packed: all that the page names, first words of both languages included."""
    dist = ROOT / "pwa" / "dist"
    page = (dist / "index.html").read_text()
    packed = {path.name: len(gzip.compress(path.read_bytes(), 9)) for path in (dist / "assets").glob("*.js")}
    always = sum(size for name, size in packed.items() if name in page)
    yield Figure("first script, gzip, engine apart", always, "bytes", SHELL_BYTES)
    yield Figure("all script of the page, both languages, gzip", sum(packed.values()), "bytes")
    engine = sum(travels(path) for path in (dist / "engine").rglob("*") if is_whole(path))
    yield Figure("the engine and its runtime, packed, fetched behind the usable screen", engine / 1e6, "MB")


def is_whole(path: Path) -> bool:
    """A file of the engine itself, not its packed form nor a piece of it."""
    return path.is_file() and path.suffix not in (".gz", ".part")


def travels(path: Path) -> int:
    """How many bytes of a file go over the line: of its packed form where there is one."""
    packed = path.with_name(f"{path.name}.gz")
    return (packed if packed.is_file() else path).stat().st_size


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


def worked_out_again(page: Page, server: Server, job: str, process: int, slow: int) -> Iterator[Figure]:
    """Without signal: from the touch that saves an entry until the times made with it are there."""
    page.goto(f"{server.base_url}/#/job/{job}/pour")
    # Each load makes all that follows more work: what comes after it is told with how many there are.
    placed = PLACED
    for name, entries in (
        ("weather note", weather_notes),
        ("check", checks),
        ("load", loads),
        ("check", checks),
    ):
        for times in (1, slow):
            found = [worked_again(page, touch, process, times) for touch in entries(page, server, job)]
            spent, worked = ([one[at] for one in found] for at in (0, 1))
            said = f"from a {name} to its times, processor as it is / {times}"
            if name == "load":
                for took in spent:
                    placed += 1
                    yield Figure(f"{said}, {placed} loads with it", took, "ms", WORK_MS)
            else:
                count = len(spent)
                yield Figure(
                    f"{said}, {placed} loads, median of {count}", statistics.median(spent), "ms", WORK_MS
                )
                yield Figure(f"{said}, slowest", max(spent), "ms")
            yield Figure(f"processor time of that, all threads, x {times}", statistics.median(worked), "ms")


def worked_again(page: Page, touch: Callable[[], None], process: int, times: int) -> tuple[float, float]:
    """From the touch to the end of the work it caused, and the processor time in it `times` over [ms]."""
    known = len(page.evaluate(MEASURES, "slabtide-engine-work"))
    worked = worked_s(process)
    with slower(process, times):
        began = time.time() * 1000.0
        touch()
        until(partial(more_work, page, known), "the engine works the times out", pause_s=0.1)
    worked = worked_s(process) - worked
    ended = float(page.evaluate(ENDED, "slabtide-engine-work"))
    page.wait_for_timeout(700)
    return ended - began, worked * 1000.0 * times


def more_work(page: Page, known: int) -> bool:
    return len(page.evaluate(MEASURES, "slabtide-engine-work")) > known


def weather_notes(page: Page, server: Server, job: str) -> Iterator[Callable[[], None]]:
    page.goto(f"{server.base_url}/#/job/{job}/pour")
    part = page.get_by_role("region", name="Weather on the slab")
    air = part.get_by_label("Air", exact=False).and_(part.locator("input")).first
    for turn in range(TURNS):
        air.fill(str(80 + int(time.time()) % 7 + turn))
        air.blur()
        yield part.get_by_role("button", name="Save the reading", exact=True).click


def loads(page: Page, server: Server, job: str) -> Iterator[Callable[[], None]]:
    page.goto(f"{server.base_url}/#/job/{job}/pour")
    for turn in range(TURNS):
        press(page, "Log a load")
        batched = datetime.now(ZoneInfo(PLACE["time_zone"])) - timedelta(minutes=30 - turn)
        fill(page, "Batched at", batched.strftime("%H:%M"))
        fill(page, "Concrete temperature", "78")
        yield page.get_by_role("button", name=re.compile("^Save load [0-9]+$")).click


def checks(page: Page, server: Server, job: str) -> Iterator[Callable[[], None]]:
    for _ in range(TURNS):
        page.goto(f"{server.base_url}/#/jobs")  # puts the sheet away, which tells what the check changed
        page.goto(f"{server.base_url}/#/job/{job}/texture")
        press(page, "Check the surface")
        sheet = page.get_by_role("dialog", name="Surface check")
        sheet.wait_for()
        if (load := sheet.get_by_role("button", name="Load 1", exact=True)).count():
            load.click()
        yield sheet.get_by_role("button", name="Mat won’t print", exact=True).click


def engine_times(page: Page) -> Iterator[Figure]:
    """How long the engine took to start, and to work a job's times out again."""
    started, worked = (page.evaluate(MEASURES, f"slabtide-engine-{name}") for name in ("start", "work"))
    yield Figure("engine ready after its start", max(started), "ms")
    yield Figure(f"times worked out in the worker, median of {len(worked)}", statistics.median(worked), "ms")


def memory(page: Page, process: int) -> Iterator[Figure]:
    """What the page's script holds, and what the page's process holds with its workers."""
    yield Figure("script heap of the page", page.evaluate("performance.memory.usedJSHeapSize") / 1e6, "MB")
    yield Figure("the page's process, engine and workers included", resident_mb(process), "MB")


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
    process = page_process(context, page)
    yield from ticks(page, server, jobs.patio, slow)
    yield from worked_out_again(page, server, jobs.patio, process, slow)
    yield from engine_times(page)
    yield from memory(page, process)
    context.close()
    yield from cold_starts(driver, profile, f"{server.base_url}/", runs)


def main() -> None:
    parser = argparse.ArgumentParser(prog="scripts/bench phone", description=__doc__)
    parser.add_argument("--runs", type=int, default=15, help="cold starts of each page (default 15)")
    parser.add_argument("--events", type=int, default=EVENTS, help=f"events on the phone (default {EVENTS})")
    parser.add_argument(
        "--slow", type=int, default=4, help="how many times slower the slow phone is (default 4)"
    )
    asked = parser.parse_args()
    build_web()
    print(f"load on this machine: {os.getloadavg()[0]:.1f} for {os.cpu_count()} processors", flush=True)
    figures = []
    for figure in measure(asked.runs, asked.events, asked.slow):
        figures.append(figure)
        print(figure, flush=True)
    print(summary(figures))
    print(f"load on this machine at the end: {os.getloadavg()[0]:.1f}; one of more than 1 spoils times")


if __name__ == "__main__":
    main()
