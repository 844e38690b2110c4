"""A slower processor for a whole page: its process runs for a part of the time only, its workers with it.

The browser's own throttle slows a page's main thread alone; the engine works in another one.
"""

import os
import signal
import time
from collections.abc import Iterator
from contextlib import contextmanager
from threading import Event, Thread

from playwright.sync_api import BrowserContext, Page

RUNS_S = 0.005


def page_process(context: BrowserContext, page: Page) -> int:
    """The process that holds the page: the renderer with most memory, as there is one page."""
    browser = context.browser
    devtools = browser.new_browser_cdp_session() if browser else context.new_cdp_session(page)
    processes = devtools.send("SystemInfo.getProcessInfo")["processInfo"]
    renderers = [int(one["id"]) for one in processes if one["type"] == "renderer"]
    return max(renderers, key=resident_mb)


def resident_mb(process: int) -> float:
    """The memory a process holds [MB]."""
    with open(f"/proc/{process}/statm") as told:
        pages = int(told.read().split()[1])
    return pages * os.sysconf("SC_PAGE_SIZE") / 1e6


def worked_s(process: int) -> float:
    """The processor time a process has had so far [s], all its threads together: no neighbour adds to it."""
    with open(f"/proc/{process}/stat") as told:
        fields = told.read().rpartition(")")[2].split()
    return (int(fields[11]) + int(fields[12])) / os.sysconf("SC_CLK_TCK")


@contextmanager
def slower(process: int, times: int) -> Iterator[None]:
    """Lets a process run for one part in `times` of the time."""
    over = Event()

    def work() -> None:
        while not over.is_set():
            os.kill(process, signal.SIGSTOP)
            time.sleep(RUNS_S * (times - 1))
            os.kill(process, signal.SIGCONT)
            time.sleep(RUNS_S)

    thread = Thread(target=work, daemon=True)
    if times > 1:
        thread.start()
    try:
        yield
    finally:
        over.set()
        if times > 1:
            thread.join()
