"""In the middle of a pour the browser takes the phone's storage away, or a new version of the app arrives."""

import re
import shutil
from pathlib import Path

import pytest
from tests.browser.acting import press
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
from tests.browser.pour import tick, ticks_shown, wait_for_sync_line
from tests.browser.serving import ROOT, Server
from tests.browser.test_hard_days import JOB, open_job, send_now

pytestmark = pytest.mark.browser


def crew_at(server: Server, open_phone: OpenPhone) -> Phone:
    open_job(server.enrol("foreman", "Wes Holm"))
    phone = open_phone(engine=False)
    join(phone, "crew", "Luis Ortega")
    phone.page.get_by_role("link", name=re.compile("Lark Hill")).wait_for()
    return phone


def take_away(phone: Phone) -> None:
    """What a browser short of room does: the site's database goes, whoever is using it."""
    devtools = phone.context.new_cdp_session(phone.page)
    origin = {"origin": phone.server.base_url, "storageTypes": "indexeddb"}
    devtools.send("Storage.clearDataForOrigin", origin)
    devtools.detach()


def ticked(server: Server) -> int:
    return sum(event["kind"] == "item.ticked" for event in server.enrol("office", "Ida Brandt").events())


def test_a_database_taken_from_under_an_open_page_loses_nothing_unsent(
    open_phone: OpenPhone, server: Server
) -> None:
    crew = crew_at(server, open_phone)
    tick(crew, JOB, "forms", "Forms match the plan")
    wait_for_sync_line(crew, "All sent.")
    crew.context.set_offline(True)
    tick(crew, JOB, "forms", "Stakes driven", "Braced at joints")
    take_away(crew)
    tick(crew, JOB, "forms", "Kickers set")
    crew.page.get_by_text("The browser emptied this phone").first.wait_for()
    crew.page.reload()
    wait_for_sync_line(crew, re.compile(r"\b3\b"))
    crew.context.set_offline(False)
    send_now(crew)
    wait_for_sync_line(crew, "All sent.")
    assert sum(done for _, done in ticks_shown(crew, JOB, "forms")) == 4
    assert ticked(server) == 4


def test_a_phone_emptied_while_it_was_shut_says_what_is_gone_and_how_to_go_on(
    open_phone: OpenPhone, server: Server
) -> None:
    crew = crew_at(server, open_phone)
    tick(crew, JOB, "forms", "Forms match the plan")
    wait_for_sync_line(crew, "All sent.")
    # A page being left is let out of `set_offline`, and its last call gets through: so the server goes.
    server.stop()
    tick(crew, JOB, "forms", "Stakes driven")
    wait_for_sync_line(crew, re.compile(r"\b1\b"))  # drawn as ticked before it is kept; counted after
    crew.page.close()
    crew.take(crew.context.new_page())
    take_away(crew)
    server.start()
    crew.go("/jobs")
    crew.page.get_by_text("The browser emptied this phone").wait_for()
    crew.page.get_by_text(re.compile("^1 entry not sent")).wait_for()
    join(crew, "crew", "Luis Ortega")
    assert sum(done for _, done in ticks_shown(crew, JOB, "forms")) == 1
    assert ticked(server) == 1
    crew.page.get_by_text("The browser emptied this phone").wait_for(state="detached")


@pytest.fixture
def renewable(server: Server, tmp_path: Path) -> Path:
    """The same server, giving out a copy of the app that the test may change; the copy's folder."""
    copy = tmp_path / "web"
    shutil.copytree(ROOT / "pwa" / "dist", copy)
    server.stop()
    server.environment["SLABTIDE_WEB_DIR"] = str(copy)
    server.start()
    return copy


def publish(web: Path) -> None:
    """A new version: its page differs, and so does the list that the service worker keeps."""
    page = web / "index.html"
    page.write_text(page.read_text().replace("<title>Slabtide", "<title>Slabtide (new)"))
    worker = web / "sw.js"
    worker.write_text(worker.read_text().replace('","url":"index.html"', '-new","url":"index.html"'))
    for packed in (page, worker):
        packed.with_name(packed.name + ".gz").unlink()


def test_a_new_version_waits_for_the_person_and_takes_nothing_from_the_pour(
    open_phone: OpenPhone, server: Server, renewable: Path
) -> None:
    crew = crew_at(server, open_phone)
    before = (renewable / "sw.js").read_text()
    publish(renewable)
    assert (renewable / "sw.js").read_text() != before
    crew.go(f"/job/{JOB}/list/forms")
    crew.page.evaluate("navigator.serviceWorker.getRegistration().then((found) => found.update())")
    bar = crew.page.get_by_text(re.compile("new version", re.IGNORECASE)).first
    bar.wait_for()
    crew.context.set_offline(True)
    tick(crew, JOB, "forms", "Forms match the plan", "Stakes driven")
    assert crew.page.evaluate("document.title").endswith("Slabtide")
    press(crew.page, "Update now")
    wait_for_sync_line(crew, re.compile(r"\b2\b"))
    assert sum(done for _, done in ticks_shown(crew, JOB, "forms")) == 2
    crew.context.set_offline(False)
    send_now(crew)
    wait_for_sync_line(crew, "All sent.")
    assert ticked(server) == 2
