"""Takes docs/pictures: the demo company's main screens, served and driven as in the tests.

Run by `scripts/pictures`. A phone is 390 by 844, drawn at twice that; a desk 1280 by 800. The
screens of the pour and the homes are taken on the narrowest phone and on a tablet too.
"""

import io
import re
import subprocess
import sys
import tempfile
from pathlib import Path

from PIL import Image
from playwright.sync_api import Browser, sync_playwright
from scripts.demo.jobs import PLACE
from tests.browser.chromium import open_chromium
from tests.browser.demo import DemoJobs, join, load_demo
from tests.browser.phones import Phone
from tests.browser.serving import ROOT, Person, Server, build_web

PICTURES = ROOT / "docs" / "pictures"
NAMES = {"crew": "Ana Ruiz", "foreman": "Wes Holm", "office": "Ida Brandt"}
SIZES = {320: 640, 390: 844, 820: 1180, 1280: 800}
COLOURS = 96
# A screen that still works something out is no picture of it.
WORKING = re.compile("^(Trying every hour|Working it out|Getting the board)")
EVERY_WIDTH = ("texture", "pour", "next-days", "now", "board")


def screens(jobs: DemoJobs) -> list[tuple[str, str, str]]:
    """(role, name of the picture, route)."""
    return [
        ("crew", "texture", f"/job/{jobs.patio}/texture"),
        ("crew", "pour", f"/job/{jobs.patio}/pour"),
        ("crew", "list-forms", f"/job/{jobs.walk}/list/forms"),
        ("crew", "next-days", f"/job/{jobs.deck}/next-days"),
        ("foreman", "now", "/now"),
        ("foreman", "layout", f"/job/{jobs.walk}/layout"),
        ("foreman", "ready", f"/job/{jobs.walk}/ready"),
        ("foreman", "pour-time", f"/job/{jobs.walk}/pour-time"),
        ("foreman", "what-if", f"/job/{jobs.patio}/what-if"),
        ("office", "board", "/board"),
        ("office", "record", f"/office/{jobs.deck}"),
    ]


def take(browser: Browser, server: Server, jobs: DemoJobs, width: int) -> None:
    phones: dict[str, Phone] = {}
    for role, name, route in screens(jobs):
        if width not in (390, 1280) and name not in EVERY_WIDTH:
            continue
        if role not in phones:
            zone = PLACE["time_zone"]
            phones[role] = Phone(browser, server, width, SIZES[width], sharp=width == 390, time_zone=zone)
            join(phones[role], role, NAMES[role])
        phone = phones[role]
        phone.go(route)
        phone.page.get_by_role("heading", level=1).wait_for()
        phone.settle()
        phone.page.get_by_text(WORKING).first.wait_for(state="detached", timeout=90_000)
        path = PICTURES / f"{role}-{name}-{width}.png"
        keep(phone.page.screenshot(animations="disabled"), path)
        print(f"pictures: {path.relative_to(ROOT)}")
    for phone in phones.values():
        phone.close()


def keep(picture: bytes, path: Path) -> None:
    """With a palette: screens of a few flat colours take a third of the room so, and look the same."""
    Image.open(io.BytesIO(picture)).convert("RGB").quantize(COLOURS).save(path, optimize=True)


def take_in_hand(foreman: Person) -> None:
    """Acknowledges what is due: the pictures are of the screens, not of the reminder over them."""
    for reminder in foreman.call("GET", "/api/outlook")["reminders"]:
        if reminder["state"] in ("due", "sent", "failed"):
            body = {"reminder": reminder["id"], "via": "app"}
            foreman.record(reminder["job"], "reminder.acknowledged", body)


def main() -> int:
    build_web()
    PICTURES.mkdir(parents=True, exist_ok=True)
    with tempfile.TemporaryDirectory() as home, sync_playwright() as playwright:
        server = Server(Path(home))
        try:
            server.command("migrate")
            server.command("keys")
            server.start()
            jobs = load_demo(server)
            take_in_hand(server.enrol("foreman", "Rae Lund"))
            browser = open_chromium(playwright)
            for width in SIZES:
                take(browser, server, jobs, width)
            browser.close()
        except subprocess.CalledProcessError as error:
            print(f"pictures: {error}", file=sys.stderr)
            return 1
        finally:
            server.stop()
    return 0


if __name__ == "__main__":
    sys.exit(main())
