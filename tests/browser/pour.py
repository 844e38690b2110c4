"""What the crew does on the slab, through the screens: tick lists, log loads, put their times right."""

import re

from tests.browser.acting import fill, press
from tests.browser.phones import Phone
from tests.browser.plan import Site


def wait_for_plan(phone: Phone, job: str) -> None:
    """Until a phone that looks every 15 s knows the job and all that was planned, the weather last."""
    link = phone.page.get_by_role("link", name=re.compile("Lark Hill patio"))
    link.wait_for(timeout=60_000)
    phone.go(f"/job/{job}/layout")
    weather = phone.page.get_by_role("region", name="Weather by hand", exact=True)
    weather.get_by_text(re.compile("66.*84")).first.wait_for(timeout=60_000)


def tick(phone: Phone, job: str, name: str, *items: str) -> None:
    """Ticks items of a list by the words they begin with."""
    phone.go(f"/job/{job}/list/{name}")
    for item in items:
        row = phone.page.get_by_role("checkbox", name=re.compile(rf"^{re.escape(item)}"))
        row.click()
        phone.page.get_by_role("checkbox", name=re.compile(rf"^{re.escape(item)}"), checked=True).wait_for()


def log_load(
    phone: Phone, job: str, site: Site, number: int, placed_hours_ago: float, fresh_number: bool = False
) -> None:
    """A ticket with its batch time 40 minutes before placing, and placing that took 25 minutes.

    `fresh_number` types the load's number, for a phone that does not know of the loads before it.
    """
    page = phone.page
    phone.go(f"/job/{job}/pour")
    press(page, "Log a load")
    if fresh_number:
        fill(page, "Load number", str(number))
    fill(page, "Batched at", site.clock(placed_hours_ago + 40 / 60))
    fill(page, "Concrete temperature", "78")
    press(page, f"Save load {number}")
    load = page.get_by_role("listitem").filter(
        has=page.get_by_role("heading", name=f"Load {number}", exact=True)
    )
    press(load, "Started placing")
    press(load, f"Change: Load {number}")
    began, ended = placed_hours_ago, placed_hours_ago - 25 / 60
    fill(load, "Placing began", site.clock(began))
    load.get_by_text(f"Placed {site.spoken(began)} to").wait_for()
    fill(load, "Placing ended", site.clock(ended))
    load.get_by_text(f"Placed {site.spoken(began)} to {site.spoken(ended)}").wait_for()
    press(load, f"Close: Load {number}")


def loads_shown(phone: Phone, job: str) -> str:
    """The words of the loads on the pour screen."""
    phone.go(f"/job/{job}/pour")
    region = phone.page.get_by_role("region", name="Loads", exact=True)
    region.wait_for()
    return region.inner_text()


def ticks_shown(phone: Phone, job: str, name: str) -> list[tuple[str, bool]]:
    """Each row of a list: its first line, and whether it is ticked."""
    phone.go(f"/job/{job}/list/{name}")
    rows = phone.page.get_by_role("checkbox")
    rows.first.wait_for()
    return [
        (row.inner_text().split("\n")[0], row.get_attribute("aria-checked") == "true") for row in rows.all()
    ]


def sync_line(phone: Phone) -> str:
    """What the head of every screen says about unsent work."""
    return phone.page.get_by_role("banner").get_by_role("status").first.inner_text()


def wait_for_sync_line(phone: Phone, words: str | re.Pattern[str], within_s: float = 30) -> None:
    line = phone.page.get_by_role("banner").get_by_role("status").filter(has_text=words)
    line.first.wait_for(timeout=within_s * 1000)
