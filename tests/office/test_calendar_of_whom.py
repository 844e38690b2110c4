"""A calendar holds what concerns its person, and calls them for what they are told first."""

from collections.abc import Callable
from datetime import datetime

import pytest
from tests.conftest import Joined
from tests.office.scene import HOUR, Patio
from tests.office.test_calendar import address, events, now, placed, today

__all__ = ["now", "today"]
Join = Callable[..., Joined]


@pytest.fixture
def crewed(today: Patio, join: Join, now: datetime) -> dict[str, Joined]:
    """Ben leads the patio's crew; Cal and Dee are of the crew too, and have nothing to do with it yet."""
    people = {name: join("crew", name=name) for name in ("ben", "cal", "dee")}
    people["office"] = join("office")
    body = {"people": 3, "lead": people["ben"].person, "crew_name": "North crew"}
    today.record("crew.assigned", body)
    today.tick(now)
    return people


def titles(patio: Patio, who: Joined) -> set[str]:
    return set(events(patio.client, address(patio.client, who)))


def calls(patio: Patio, who: Joined, work: str) -> int:
    return len(events(patio.client, address(patio.client, who))[work].contents.get("valarm", []))


def test_the_lead_the_foreman_and_the_office_see_the_job_and_others_of_the_crew_do_not(
    today: Patio, crewed: dict[str, Joined], join: Join
) -> None:
    seen = {name: titles(today, who) for name, who in crewed.items()}
    assert seen == {"ben": {"Pour"}, "cal": set(), "dee": set(), "office": {"Pour"}}
    assert titles(today, today.foreman) == titles(today, join("foreman")) == {"Pour"}


def test_whoever_wrote_to_a_job_sees_it(today: Patio, crewed: dict[str, Joined], now: datetime) -> None:
    today.sync.record(crewed["cal"], today.job, "note.written", {"text": "Gate code 4711"})
    today.tick(now)
    assert titles(today, crewed["cal"]) == {"Pour"}
    assert titles(today, crewed["dee"]) == set()


def test_whoever_has_one_of_its_pins_sees_it_until_that_is_closed(
    today: Patio, crewed: dict[str, Joined], now: datetime
) -> None:
    pin = "55555555-5555-4555-8555-555555555555"
    today.record("pin.dropped", {"pin": pin, "spot": [1, 1], "what": "debris"})
    today.record("pin.assigned", {"pin": pin, "person": crewed["dee"].person})
    today.tick(now)
    assert titles(today, crewed["dee"]) == {"Pour"}
    today.record("pin.closed", {"pin": pin})
    today.tick(now)
    assert titles(today, crewed["dee"]) == set()


def test_whoever_took_a_reminder_in_hand_sees_the_job(
    today: Patio, crewed: dict[str, Joined], now: datetime
) -> None:
    placed(today, now)
    body = {"reminder": today.reminders()["open"].id, "via": "app"}
    today.sync.record(crewed["cal"], today.job, "reminder.acknowledged", body)
    today.tick(now)
    assert "Saw" in titles(today, crewed["cal"])


def test_the_next_pour_of_the_crew_one_works_with_is_there_before_one_wrote_to_it(
    today: Patio, crewed: dict[str, Joined], now: datetime
) -> None:
    today.sync.record(crewed["cal"], today.job, "note.written", {"text": "Gate code 4711"})
    following = Patio(today.app, today.client, today.sync, today.foreman)
    following.open("Next door")
    following.order(now + 72 * HOUR)
    following.record("crew.assigned", {"people": 3, "crew_name": "north crew "})
    other = Patio(today.app, today.client, today.sync, today.foreman)
    other.open("Across town")
    other.order(now + 72 * HOUR)
    other.record("crew.assigned", {"people": 3, "crew_name": "South crew"})
    for patio in (today, following, other):
        patio.tick(now)
    found = today.client.get(address(today.client, crewed["cal"])).get_data(as_text=True)
    assert "Next door" in found
    assert "Across town" not in found
    of_foreman = today.client.get(address(today.client, today.foreman)).get_data(as_text=True)
    assert "Next door" in of_foreman
    assert "Across town" in of_foreman


def test_a_job_of_which_nobody_is_known_yet_stands_in_everybodys_calendar(today: Patio, join: Join) -> None:
    assert titles(today, join("crew")) == {"Pour"}


def test_each_is_called_for_what_they_are_told_first(
    today: Patio, crewed: dict[str, Joined], now: datetime
) -> None:
    today.sync.record(crewed["cal"], today.job, "note.written", {"text": "On my way"})
    today.tick(now)
    people = {"foreman": today.foreman} | crewed
    pour = {name: calls(today, people[name], "Pour") for name in ("foreman", "ben", "cal", "office")}
    assert pour == {"foreman": 2, "ben": 2, "cal": 2, "office": 0}
    placed(today, now)
    names = ("foreman", "ben", "cal", "office")
    saw = {name: calls(today, people[name], "Saw") for name in names}
    assert saw == {"foreman": 2, "ben": 2, "cal": 1, "office": 0}
    wash = {name: calls(today, people[name], "Wash") for name in names}
    assert wash == {"foreman": 2, "ben": 2, "cal": 0, "office": 0}


def test_the_same_work_has_the_same_uid_in_every_calendar(today: Patio, crewed: dict[str, Joined]) -> None:
    uids = {
        events(today.client, address(today.client, who))["Pour"].uid.value
        for who in (today.foreman, crewed["ben"], crewed["office"])
    }
    assert len(uids) == 1
