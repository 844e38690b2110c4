"""Headless Chromium against the served build: one server and one push service to a test, nothing shared."""

import os
import shutil
from collections.abc import Callable, Iterator
from pathlib import Path

import pytest
from playwright.sync_api import Browser, Playwright, sync_playwright
from tests.browser.phones import Phone
from tests.browser.push_service import PushService
from tests.browser.serving import Server, build_web

OpenPhone = Callable[..., Phone]


def chromium_path() -> str | None:
    """The system's Chromium; None leaves the choice to Playwright."""
    named = os.environ.get("SLABTIDE_TEST_BROWSER")
    found = (shutil.which(name) for name in ("chromium", "chromium-browser", "google-chrome"))
    return named or next((path for path in found if path), None)


@pytest.fixture(scope="session")
def web() -> None:
    build_web()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    # Chromium refuses its sandbox to root, which is who runs the tests in a container.
    arguments = ["--no-sandbox"] if os.geteuid() == 0 else []
    opened = playwright.chromium.launch(executable_path=chromium_path(), args=arguments)
    yield opened
    opened.close()


@pytest.fixture
def server(web: None, tmp_path: Path) -> Iterator[Server]:
    running = Server(tmp_path)
    running.command("migrate")
    running.command("keys")
    running.command("company", "create", "Millrace Flatwork")
    running.start()
    yield running
    running.stop()


@pytest.fixture
def push_service() -> Iterator[PushService]:
    service = PushService()
    yield service
    service.close()


@pytest.fixture
def open_phone(browser: Browser, server: Server) -> Iterator[OpenPhone]:
    """Opens a phone (or a desk) that belongs to nobody yet; each has its own storage and its own network."""
    phones: list[Phone] = []

    def open_one(width: int = 390, height: int = 844, locale: str = "en-US") -> Phone:
        phones.append(Phone(browser, server, width, height, locale))
        return phones[-1]

    yield open_one
    for phone in phones:
        phone.close()
