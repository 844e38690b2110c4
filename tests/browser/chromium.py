"""Which browser the tests drive, and how it is started."""

import os
import shutil
from typing import Any

from playwright.sync_api import Browser, Playwright


def chromium_path() -> str | None:
    """The system's Chromium; None leaves the choice to Playwright."""
    named = os.environ.get("SLABTIDE_TEST_BROWSER")
    found = (shutil.which(name) for name in ("chromium", "chromium-browser", "google-chrome"))
    return named or next((path for path in found if path), None)


def launching() -> dict[str, Any]:
    """How the browser is started, whoever starts it."""
    # Chromium refuses its sandbox to root, which is who runs the tests in a container.
    sandbox = ["--no-sandbox"] if os.geteuid() == 0 else []
    return {"executable_path": chromium_path(), "args": [*sandbox, "--disable-background-networking"]}


def open_chromium(playwright: Playwright) -> Browser:
    return playwright.chromium.launch(**launching())
