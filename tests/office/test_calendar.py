"""A person's calendar, read back with another parser than the one that wrote it."""

import hashlib
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
import vobject
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select
from tests.conftest import Joined
from tests.office.scene import HOUR, MINUTE, Patio

from slabtide.reminders import calendar_feeds
from slabtide.reminders.calendar_events import Alarm, Entry
from slabtide.reminders.calendar_feeds import Strangers, TooOftenError
from slabtide.reminders.calendar_text import calendar_text
from slabtide.store.session import read, write
from slabtide.store.tables import CalendarFeed, Reminder

Join = Callable[..., Joined]
HOSTILE = "Ana's; \\patio, \r\nEND:VCALENDAR\r\nX-EVIL:1 “Año” 🏡 " + "long " * 5


def address(client: FlaskClient, who: Joined) -> str:
    answer = client.post("/api/calendar", json={}, headers=who.headers)
    assert answer.status_code == 201, answer.get_data(as_text=True)
    url: str = answer.get_json()["url"]
    assert url.startswith("https://slab.test/calendar/")
    return url.removeprefix("https://slab.test")


def events(client: FlaskClient, path: str) -> dict[str, Any]:
    """VEVENTs by the last word of their summary."""
    answer = client.get(path)
    assert answer.status_code == 200
    parsed = vobject.readOne(answer.get_data(as_text=True))
    found = parsed.contents.get("vevent", [])
    return {event.summary.value.rpartition(": ")[2]: event for event in found}


@pytest.fixture
def now() -> datetime:
    return datetime.now(UTC).replace(minute=0, second=0, microsecond=0)


@pytest.fixture
def today(patio: Patio, now: datetime) -> Patio:
    """A patio ordered for tomorrow: the feed reads the wall clock."""
    patio.open()
    patio.outline()
    patio.order(now + 24 * HOUR)
    patio.tick(now)
    return patio


def placed(patio: Patio, now: datetime) -> None:
    """One load in place an hour ago; without weather, practice gives the saw window."""
    load = patio.loads[0]
    begins = now - 90 * MINUTE
    ticket = {"load": load, "number": 1, "batched_at": begins.isoformat(), "volume_m3": 3.2}
    patio.record("load.ticketed", ticket, begins)
    spell = {"from": begins.isoformat(), "to": (now - HOUR).isoformat(), "area_m2": 26}
    patio.record("load.placed", {"load": load} | spell, now - HOUR)
    patio.tick(now)


def test_a_pour_ahead_stands_in_the_calendar_with_two_alarms(today: Patio, now: datetime) -> None:
    pour = events(today.client, address(today.client, today.foreman))["Pour"]
    assert pour.dtstart.value == now + 24 * HOUR
    assert pour.dtend.value == now + 24 * HOUR + 70 * MINUTE
    assert pour.description.value.startswith("6.4 m³ (8.4 yd³), 2 loads. First truck ")
    assert pour.status.value == "CONFIRMED"
    assert pour.url.value == f"https://slab.test/#/job/{today.job}/ready"
    assert len(pour.valarm_list) == 2
    assert pour.valarm_list[1].trigger.value == -HOUR


def test_a_moved_pour_keeps_its_uid_and_counts_its_moves(today: Patio, now: datetime) -> None:
    path = address(today.client, today.foreman)
    before = events(today.client, path)["Pour"]
    today.order(now + 48 * HOUR)
    today.tick(now)
    after = events(today.client, path)["Pour"]
    assert after.uid.value == before.uid.value
    assert after.dtstart.value == now + 48 * HOUR
    assert int(after.sequence.value) == int(before.sequence.value) + 1


def test_a_pour_called_off_stays_cancelled_for_a_week(today: Patio, now: datetime) -> None:
    path = address(today.client, today.foreman)
    before = events(today.client, path)["Pour"]
    today.record("job.closed", {"outcome": "Owner changed his mind"})
    today.tick(now)
    gone = events(today.client, path)["Pour"]
    assert (gone.status.value, gone.uid.value) == ("CANCELLED", before.uid.value)
    assert not gone.contents.get("valarm")
    assert int(gone.sequence.value) > int(before.sequence.value)


def test_a_saw_window_calls_at_heads_up_and_last_call_and_is_cancelled_once_cut(
    today: Patio, now: datetime
) -> None:
    placed(today, now)
    path = address(today.client, today.foreman)
    saw = events(today.client, path)["Saw"]
    rows = today.reminders()
    assert saw.dtstart.value == rows["open"].due == now + 3 * HOUR
    calls = {saw.dtstart.value + alarm.trigger.value for alarm in saw.valarm_list}
    assert calls == {rows["heads_up"].due, rows["last_call"].due}
    assert saw.dtend.value == now + 11 * HOUR
    assert "Water on the blade" in saw.description.value
    today.record("cut.made", {"length_m": 22, "saw": "conventional", "last": True}, now)
    today.tick(now)
    done = events(today.client, path)["Saw"]
    assert (done.status.value, done.uid.value) == ("CANCELLED", saw.uid.value)
    assert int(done.sequence.value) > int(saw.sequence.value)
    assert "Wash" in events(today.client, path)


def test_a_saw_window_that_moves_keeps_its_uid_and_counts(today: Patio, now: datetime) -> None:
    placed(today, now)
    path = address(today.client, today.foreman)
    before = events(today.client, path)["Saw"]
    spell = {"from": (now - HOUR).isoformat(), "to": now.isoformat(), "area_m2": 26}
    today.record("load.placed", {"load": today.loads[0]} | spell, now)
    today.tick(now)
    after = events(today.client, path)["Saw"]
    assert after.uid.value == before.uid.value
    assert after.dtstart.value == before.dtstart.value + HOUR
    assert int(after.sequence.value) > int(before.sequence.value)
    assert after.last_modified.value >= before.last_modified.value


def test_who_has_it_in_hand_is_not_called_again_for_that(today: Patio, now: datetime) -> None:
    placed(today, now)
    body = {"reminder": today.reminders()["last_call"].id, "via": "app"}
    today.record("reminder.acknowledged", body, now)
    today.tick(now)
    saw = events(today.client, address(today.client, today.foreman))["Saw"]
    assert len(saw.valarm_list) == 1


def test_words_are_in_the_persons_language(today: Patio, join: Join, now: datetime) -> None:
    placed(today, now)
    found = events(today.client, address(today.client, join("crew", language="es")))
    assert {"Corte", "Lavado", "Colado"} <= set(found)
    assert found["Colado"].description.value.endswith("guantes, botas y lentes.")


def test_hostile_names_are_text_and_nothing_else(patio: Patio, now: datetime) -> None:
    patio.open(HOSTILE)
    patio.order(now + 24 * HOUR)
    patio.tick(now)
    raw = patio.client.get(address(patio.client, patio.foreman)).get_data()
    lines = raw.split(b"\r\n")
    assert b"\n" not in raw.replace(b"\r\n", b"")
    assert max(map(len, lines)) <= 75
    assert lines.count(b"END:VCALENDAR") == 1
    assert not [line for line in lines if line.startswith(b"X-EVIL")]
    (event,) = vobject.readOne(raw.decode()).vevent_list
    assert event.summary.value == HOSTILE.replace("\r", "") + ": Pour"


@pytest.mark.parametrize("day", [datetime(2026, 3, 8, tzinfo=UTC), datetime(2026, 11, 1, tzinfo=UTC)])
def test_times_are_right_on_days_the_clocks_change(day: datetime) -> None:
    for hour in range(24):
        start = day + hour * HOUR
        entry = Entry(
            "u@x", "j", start, start + HOUR, "t", "w", None, 0, start, False, (Alarm(start - HOUR, "a"),)
        )
        event = vobject.readOne(calendar_text("n", "https://x", [entry]).decode()).vevent
        assert (event.dtstart.value, event.dtend.value) == (start, start + HOUR)
        assert event.valarm.trigger.value == -HOUR


def test_another_company_sees_nothing_of_it(today: Patio, app: Flask, join: Join) -> None:
    from slabtide.people.companies import create_company

    with app.app_context():
        other = create_company("Other Slabs")
    stranger = join("office", company=other)
    assert events(today.client, address(today.client, stranger)) == {}


def test_only_the_hash_is_kept_and_a_new_address_ends_the_old(
    client: FlaskClient, app: Flask, join: Join
) -> None:
    who = join("crew")
    first, second = address(client, who), address(client, who)
    assert first != second
    assert [client.get(path).status_code for path in (first, second)] == [404, 200]
    secret = second.removeprefix("/calendar/").removesuffix(".ics")
    assert len(secret) == 64
    with app.app_context(), read() as session:
        (row,) = session.scalars(select(CalendarFeed))
    assert row.secret_sha256 == hashlib.sha256(secret.encode()).hexdigest()


def test_ending_it_and_signing_out_the_last_device_both_close_it(client: FlaskClient, join: Join) -> None:
    who, lead = join("crew"), join("foreman")
    path = address(client, who)
    assert client.delete("/api/calendar", headers=who.headers).status_code == 204
    assert client.get(path).get_json()["error"]["code"] == "calendar_unknown"
    again = address(client, who)
    assert client.get(again).status_code == 200
    client.post(f"/api/devices/{who.device}/revoke", headers=lead.headers)
    assert client.get(again).status_code == 404


def test_the_answer_is_private_and_costs_little_when_nothing_changed(today: Patio) -> None:
    path = address(today.client, today.foreman)
    answer = today.client.get(path)
    assert answer.content_type == "text/calendar; charset=utf-8"
    assert "private" in answer.headers["Cache-Control"]
    again = today.client.get(path, headers={"If-None-Match": answer.headers["ETag"]})
    assert (again.status_code, again.data) == (304, b"")


def test_a_calendar_read_too_often_is_told_to_wait(client: FlaskClient, join: Join) -> None:
    path = address(client, join("crew"))
    codes = [client.get(path).status_code for _ in range(calendar_feeds.READS_PER_FEED + 1)]
    assert codes == [200] * calendar_feeds.READS_PER_FEED + [429]
    assert client.get(path).headers["Retry-After"] == "600"


def test_a_stranger_is_shut_out_after_sixty_wrong_secrets_and_let_in_again_later(now: datetime) -> None:
    strangers = Strangers()
    for _ in range(60):
        strangers.refuse_if_many("203.0.113.9", now)
        strangers.note("203.0.113.9", now)
    with pytest.raises(TooOftenError):
        strangers.refuse_if_many("203.0.113.9", now)
    strangers.refuse_if_many("203.0.113.10", now)
    strangers.refuse_if_many("203.0.113.9", now + timedelta(minutes=10))


def test_what_ended_over_a_week_ago_is_gone(today: Patio, now: datetime) -> None:
    placed(today, now)
    path = address(today.client, today.foreman)
    with today.app.app_context(), write() as session:
        for row in session.scalars(select(Reminder).where(Reminder.what == "saw")):
            row.due, row.updated_at = row.due - timedelta(days=9), now - timedelta(days=8)
            row.opens = row.closes = {key: (now - timedelta(days=9)).isoformat() for key in row.opens}
    assert "Saw" not in events(today.client, path)
