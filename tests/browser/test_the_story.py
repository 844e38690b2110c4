"""One job, from the plan to an acknowledged saw reminder, on three screens, part of it without a signal."""

import re
import time
from collections.abc import Callable
from typing import Any

import pytest
from tests.browser.conftest import OpenPhone
from tests.browser.demo import join
from tests.browser.phones import Phone
from tests.browser.plan import Site, plan_job
from tests.browser.pour import (
    loads_shown,
    log_load,
    sync_line,
    tick,
    ticks_shown,
    wait_for_plan,
    wait_for_sync_line,
)
from tests.browser.push_service import PushService, Sent
from tests.browser.serving import Person, Server

CREW, FOREMAN, OFFICE = "Luis Ortega", "Wes Holm", "Ida Brandt"
PLACED_HOURS_AGO = (10.4, 9.7)


def wait_until(seen: Callable[[], Any], what: str, within_s: float = 60) -> Any:
    """What `seen` gives as soon as it gives something."""
    deadline = time.monotonic() + within_s
    while time.monotonic() < deadline:
        if found := seen():
            return found
        time.sleep(0.25)
    raise AssertionError(f"not within {within_s} s: {what}")


def saw_windows(observer: Person, job: str, planned: bool) -> list[dict[str, Any]] | None:
    """The saw window of each load in the server's timeline, when it is of that sort and there."""
    entry = observer.call("GET", "/api/outlook")["jobs"].get(job)
    if not entry or not entry["timeline"] or entry["planned"] != planned:
        return None
    return [load["windows"]["saw"] for load in entry["timeline"]["loads"]]


def next_saw_push(service: PushService, job: str, within_s: float = 60) -> tuple[Sent, dict[str, Any]]:
    """The first message about this job's saw that asks for work now, as it was sent and as it reads."""
    deadline = time.monotonic() + within_s
    while True:
        sent = service.next(within_s=max(0.1, deadline - time.monotonic()))
        message = service.opened(sent)
        about = message["notification"]["data"]
        if (about["job"], about["what"]) == (job, "saw"):
            return sent, message


@pytest.fixture
def people(open_phone: OpenPhone, push_service: PushService) -> dict[str, Phone]:
    """Three people with their screens, each joined by a link; crew and foreman can be pushed to."""
    phones = {CREW: open_phone(), FOREMAN: open_phone(), OFFICE: open_phone(width=1280, height=800)}
    for name, role in ((CREW, "crew"), (FOREMAN, "foreman"), (OFFICE, "office")):
        if role != "office":
            phones[name].use_push_service(push_service.subscription(role))
        join(phones[name], role, name)
    return phones


@pytest.mark.browser
def test_a_pour_without_signal_ends_in_an_acknowledged_saw_reminder(
    people: dict[str, Phone], server: Server, push_service: PushService
) -> None:
    crew, foreman, office = people[CREW], people[FOREMAN], people[OFFICE]
    observer = server.enrol("office", "Observer")
    site = Site.at_five_in_the_afternoon()

    job = plan_job(foreman, "Lark Hill patio", site, pour_hours_ago=11, lead=CREW)
    wait_for_sync_line(foreman, "All sent.")
    expected = wait_until(lambda: saw_windows(observer, job, planned=True), "a timeline from the order alone")

    wait_for_plan(crew, job)
    crew.context.set_offline(True)
    tick(crew, job, "forms", "Forms match the plan", "Stakes driven")
    log_load(crew, job, site, 1, PLACED_HOURS_AGO[0])
    crew.page.reload()
    assert "Load 1" in loads_shown(crew, job)
    assert "saved on this phone" in sync_line(crew)
    log_load(crew, job, site, 2, PLACED_HOURS_AGO[1])
    tick(crew, job, "forms", "Braced at joints")
    assert saw_windows(observer, job, planned=False) is None, "the server can't know of the loads yet"

    crew.context.set_offline(False)
    wait_for_sync_line(crew, "All sent.")
    both_agree(crew, foreman, job)
    saw = wait_until(lambda: saw_windows(observer, job, planned=False), "a timeline from the loads placed")
    assert len(saw) == 2
    assert saw != expected

    sent, message = next_saw_push(push_service, job)
    assert push_service.sender_of(sent)["sub"] == "mailto:foreman@slabtide.example"
    assert int(sent.headers["ttl"]) > 0
    assert sent.headers["topic"]
    reminder = message["notification"]["data"]["reminder"]
    shown = crew.page.url
    crew.deliver(message)
    [notification] = wait_until(crew.notifications, "the reminder on the crew's phone")
    assert "saw" in notification["title"].lower()
    assert [action["action"] for action in notification["actions"]] == ["acknowledge"]

    office.go("/board")
    office.page.get_by_text("nobody yet").first.wait_for()
    crew.press_on_notification(reminder, "acknowledge")
    office.page.get_by_text(re.compile(rf"Saw: {CREW}")).first.wait_for(timeout=30_000)
    assert crew.notifications() == []
    assert crew.page.url == shown, "acknowledging opens nothing"
    [known] = [each for each in observer.call("GET", "/api/outlook")["reminders"] if each["id"] == reminder]
    assert (known["state"], known["acknowledged"]["via"]) == ("acknowledged", "notification")
    assert [phone.complaints for phone in people.values()] == [[], [], []]


def both_agree(crew: Phone, foreman: Phone, job: str) -> None:
    """Both screens come to the same words, on loads and on ticks."""
    mine = loads_shown(crew, job)
    wait_until(lambda: loads_shown(foreman, job) == mine, f"the foreman sees {mine}")
    ticked = ticks_shown(crew, job, "forms")
    assert sum(done for _, done in ticked) == 3
    wait_until(lambda: ticks_shown(foreman, job, "forms") == ticked, "the foreman sees the same ticks")
