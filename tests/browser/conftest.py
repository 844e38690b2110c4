"""Headless Chromium against the served build: one server and one push service to a test, nothing shared."""

from collections.abc import Callable, Generator, Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Browser, Playwright, sync_playwright
from tests.browser.chromium import open_chromium
from tests.browser.demo import DemoJobs, load_demo, looked_back
from tests.browser.homes import Home, made_once
from tests.browser.phones import Phone
from tests.browser.push_service import PushService
from tests.browser.serving import Server, build_web

OpenPhone = Callable[..., Phone]
FAILED = pytest.StashKey[bool]()


@pytest.fixture(scope="session")
def web() -> None:
    build_web()


@pytest.fixture(scope="session")
def playwright() -> Iterator[Playwright]:
    with sync_playwright() as running:
        yield running


@pytest.fixture(scope="session")
def browser(playwright: Playwright) -> Iterator[Browser]:
    opened = open_chromium(playwright)
    yield opened
    opened.close()


@pytest.fixture(scope="session")
def fresh(tmp_path_factory: pytest.TempPathFactory) -> Home:
    """After the first commands: migrated, with its key, one company and its owner. Copied for each test."""

    def make(server: Server) -> dict[str, Any]:
        server.command("company", "create", "Millrace Flatwork")
        return {}

    return made_once(tmp_path_factory, "fresh", make)


@pytest.fixture
def server(web: None, fresh: Home, tmp_path: Path) -> Iterator[Server]:
    running = fresh.serve(tmp_path / "home")
    yield running
    running.stop()


@pytest.fixture(scope="session")
def demo_home(web: None, tmp_path_factory: pytest.TempPathFactory) -> Home:
    """With the demo company, all its slabs worked out and looked back on."""

    def make(server: Server) -> dict[str, Any]:
        jobs = load_demo(server)
        looked_back(server.enrol("office", "Ida Brandt"))
        return asdict(jobs)

    return made_once(tmp_path_factory, "demo-home", make)


@pytest.fixture(scope="session")
def demo(demo_home: Home, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, DemoJobs]]:
    """One server with the demo company, for all that only look at it."""
    running = demo_home.serve(tmp_path_factory.mktemp("demo") / "home")
    yield running, DemoJobs(**demo_home.told)
    running.stop()


@pytest.fixture(scope="module")
def own_demo(demo_home: Home, tmp_path_factory: pytest.TempPathFactory) -> Iterator[tuple[Server, DemoJobs]]:
    """The demo company for one file alone, whose tests write to it."""
    running = demo_home.serve(tmp_path_factory.mktemp("own") / "home")
    yield running, DemoJobs(**demo_home.told)
    running.stop()


@pytest.fixture
def push_service() -> Iterator[PushService]:
    service = PushService()
    yield service
    service.close()


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Lets a fixture know at its end whether its test failed."""
    report = yield
    if report.when == "call":
        item.stash[FAILED] = report.failed
    return report


@pytest.fixture
def open_phone(
    browser: Browser, server: Server, request: pytest.FixtureRequest, tmp_path: Path
) -> Iterator[OpenPhone]:
    """Opens a phone (or a desk) that belongs to nobody yet; each has its own storage and its own network."""
    phones: list[Phone] = []

    def open_one(width: int = 390, height: int = 844, locale: str = "en-US", engine: bool = True) -> Phone:
        phones.append(Phone(browser, server, width, height, locale, engine=engine))
        return phones[-1]

    yield open_one
    for number, phone in enumerate(phones, 1):
        if request.node.stash.get(FAILED, False):
            picture = tmp_path / f"phone-{number}.png"
            phone.page.screenshot(path=picture, full_page=True)
            print(f"phone {number} at {phone.page.url}: {picture}", *phone.complaints, sep="\n")
        phone.close()
