"""The sync call: what goes in comes out once, in order, for everyone but the sender."""

from __future__ import annotations

import gzip
import json
import uuid
from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import select

from slabtide.store.session import read
from slabtide.store.tables import Device, Event, JobMark

Join = Callable[..., Any]
NOTE = {"text": "Fog bay 3 lightly."}


def notes(sync: Any, who: Any, job: str, count: int) -> list[dict[str, Any]]:
    return [sync.event(who, job, "note.written", {"text": f"note {n}"}) for n in range(count)]


def notes_sent(sync: Any, who: Any, job: str, count: int) -> list[dict[str, Any]]:
    events = notes(sync, who, job, count)
    sync(who, *events)
    return events


def few(sync: Any, who: Any, limit: str, cursor: int, *events: dict[str, Any]) -> Any:
    body = {"cursor": cursor, "events": list(events), "device_time": datetime.now(UTC).isoformat()}
    return sync.client.post(f"/api/sync?limit={limit}", json=body, headers=who.headers)


def test_an_event_reaches_the_other_phone_as_it_was_sent(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    sent = sync.event(ana, job, "note.written", {"text": 'Ünï "quoted" \\ \u2028 😀'}, raw_at=None)
    assert sync(ana, sent)["accepted"] == [sent["id"]]
    [got] = sync(luis)["events"]
    assert {name: got[name] for name in sent} == sent
    assert got["seq"] == 1


def test_offering_again_changes_nothing_and_is_accepted_again(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    events = notes(sync, ana, job, 5)
    for _ in range(3):
        assert sync(ana, *events, *events)["accepted"] == [event["id"] for event in events]
    assert [event["seq"] for event in sync(luis)["events"]] == [1, 2, 3, 4, 5]


def test_a_phone_gets_its_own_events_only_when_it_asks(sync: Any, join: Join, job: str) -> None:
    ana = join("foreman")
    events = notes(sync, ana, job, 3)
    assert sync(ana, *events)["events"] == []
    again = sync.offer(ana, [], cursor=0, own=True).get_json()
    assert [event["id"] for event in again["events"]] == [event["id"] for event in events]


def test_the_cursor_walks_through_a_long_log_without_gap_or_repeat(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    sent = [event["id"] for event in notes(sync, ana, job, 0)]
    for _ in range(3):
        batch = notes(sync, ana, job, 900)
        sync(ana, *batch)
        sent += [event["id"] for event in batch]
    first, second = sync(luis), sync(luis)
    assert (len(first["events"]), first["more"]) == (2000, True)
    assert (len(second["events"]), second["more"]) == (700, False)
    assert [event["id"] for event in first["events"] + second["events"]] == sent


def test_a_phone_on_a_weak_line_gets_as_few_at_a_time_as_it_asks_for(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    sent = [event["id"] for event in notes_sent(sync, ana, job, 5)]
    got, more, cursor = [], True, 0
    while more:
        answer = few(sync, luis, "2", cursor).get_json()
        assert len(answer["events"]) <= 2
        got += [event["id"] for event in answer["events"]]
        cursor, more = answer["cursor"], answer["more"]
    assert got == sent


@pytest.mark.parametrize("limit", ["0", "2001", "-1", "many", "", "1.5"])
def test_a_limit_out_of_range_is_refused_by_name_and_nothing_is_stored(
    sync: Any, join: Join, job: str, limit: str
) -> None:
    ana = join("foreman")
    response = few(sync, ana, limit, 0, *notes(sync, ana, job, 1))
    assert (response.status_code, response.get_json()["error"]["path"]) == (400, "limit")
    assert sync.offer(ana, [], own=True).get_json()["events"] == []


def test_one_poison_event_among_a_hundred_blocks_nobody(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    events = notes(sync, ana, job, 100)
    events[50]["body"] = {"text": "x", "colour": "red"}
    answer = sync(ana, *events)
    assert len(answer["accepted"]) == 99
    [rejected] = answer["rejected"]
    assert rejected["id"] == events[50]["id"]
    assert rejected["why"]["code"] == "body_invalid"
    assert "colour" in rejected["why"]["path"]
    assert len(sync(luis)["events"]) == 99


def test_numbers_have_no_gap_even_when_events_are_rejected(sync: Any, join: Join, job: str) -> None:
    ana = join("crew")
    for round_ in range(4):
        events = notes(sync, ana, job, 5)
        events[round_]["kind"] = "slab.outlined"
        sync(ana, *events)
    got = sync.offer(ana, [], cursor=0, own=True).get_json()["events"]
    assert [event["seq"] for event in got] == list(range(1, 17))


def test_another_company_sees_nothing(sync: Any, join: Join, app: Flask, job: str) -> None:
    from slabtide.people.companies import create_company

    with app.app_context():
        other = create_company("Someone Else")
    ana, stranger = join("foreman"), join("foreman", company=other)
    events = notes(sync, ana, job, 3)
    sync(ana, *events)
    assert sync(stranger)["events"] == []
    mine = {**events[0], "device": stranger.device, "author": stranger.person}
    mine["clock"] = mine["clock"][:21] + stranger.device
    assert sync(stranger, mine)["accepted"] == [events[0]["id"]], "ids are each company's own"


def test_an_accepted_event_marks_its_job_for_a_new_outlook(
    sync: Any, join: Join, app: Flask, job: str
) -> None:
    sync.record(join("crew"), job, "note.written", NOTE)
    with app.app_context(), read() as session:
        mark = session.scalars(select(JobMark)).one()
    assert (mark.job, mark.dirty) == (job, True)


def test_the_office_learns_what_a_phone_still_owes(sync: Any, join: Join, app: Flask) -> None:
    ana = join("crew")
    sync(ana, unsent=7, oldest_unsent_at="2026-07-14T13:05:00.000Z")
    with app.app_context(), read() as session:
        device = session.scalars(select(Device)).one()
    assert device.unsent == 7
    assert device.oldest_unsent_at == datetime(2026, 7, 14, 13, 5, tzinfo=UTC)
    assert device.last_heard_at is not None


def test_packed_both_ways(client: FlaskClient, sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("crew")
    body = {"cursor": 0, "events": notes(sync, ana, job, 200), "device_time": "2026-07-14T13:05:00.000Z"}
    headers = {"Content-Type": "application/json", "Content-Encoding": "gzip"}
    packed = gzip.compress(json.dumps(body).encode())
    up = client.post("/api/sync", data=packed, headers=ana.headers | headers)
    assert len(up.get_json()["accepted"]) == 200
    down = client.post(
        "/api/sync", json=body | {"events": []}, headers=luis.headers | {"Accept-Encoding": "gzip"}
    )
    assert down.headers["Content-Encoding"] == "gzip"
    assert len(json.loads(gzip.decompress(down.data))["events"]) == 200


def test_a_body_that_inflates_past_the_cap_is_refused(client: FlaskClient, join: Join) -> None:
    bomb = gzip.compress(b" " * 64_000_000)
    headers = join("crew").headers | {"Content-Type": "application/json", "Content-Encoding": "gzip"}
    response = client.post("/api/sync", data=bomb, headers=headers)
    assert response.status_code == 413
    assert response.get_json()["error"]["code"] == "too_large"


def test_more_than_a_thousand_events_are_sent_back_to_be_split(sync: Any, join: Join, job: str) -> None:
    ana = join("crew")
    response = sync.offer(ana, notes(sync, ana, job, 1001))
    assert response.status_code == 413
    assert response.get_json()["error"]["code"] == "too_many"


MALFORMED = [
    ({"events": [], "device_time": "2026-07-14T13:05:00.000Z"}, "cursor"),
    ({"cursor": -1, "events": [], "device_time": "2026-07-14T13:05:00.000Z"}, "cursor"),
    ({"cursor": "0", "events": [], "device_time": "2026-07-14T13:05:00.000Z"}, "cursor"),
    ({"cursor": 10**30, "events": [], "device_time": "2026-07-14T13:05:00.000Z"}, "cursor"),
    ({"cursor": 0, "events": {}, "device_time": "2026-07-14T13:05:00.000Z"}, "events"),
    ({"cursor": 0, "events": [], "device_time": "yesterday"}, "device_time"),
    ({"cursor": 0, "events": [], "device_time": 5}, "device_time"),
    ({"cursor": 0, "events": [], "device_time": "2026-07-14T13:05:00.000Z", "more": 1}, "more"),
    ({"cursor": 0, "events": [], "device_time": "2026-07-14T13:05:00.000Z", "unsent": -3}, "unsent"),
    ({"cursor": 0, "events": [], "device_time": "2026-07-14T13:05:00.000Z", "own": "yes"}, "own"),
]


@pytest.mark.parametrize(("body", "path"), MALFORMED)
def test_a_malformed_call_is_refused_with_the_path(
    client: FlaskClient, join: Join, body: dict[str, Any], path: str
) -> None:
    response = client.post("/api/sync", json=body, headers=join("crew").headers)
    assert response.status_code == 400
    assert response.get_json()["error"]["path"] == path


RAW = [
    b"",
    b"{",
    b"[]",
    b"null",
    b'{"cursor": NaN}',
    b"\xff\xfe",
    b"[" * 100_000,
    b'{"cursor": %s}' % (b"9" * 5000),
]


@pytest.mark.parametrize("data", RAW, ids=range(len(RAW)))
def test_bytes_that_are_no_json_object_are_refused(client: FlaskClient, join: Join, data: bytes) -> None:
    headers = join("crew").headers | {"Content-Type": "application/json"}
    response = client.post("/api/sync", data=data, headers=headers)
    assert response.status_code == 400
    assert response.get_json()["error"]["code"] == "malformed"


def test_a_body_not_declared_as_json_is_refused(client: FlaskClient, join: Join) -> None:
    for kind in ("text/plain", "application/x-www-form-urlencoded", "multipart/form-data"):
        response = client.post("/api/sync", data=b"{}", headers=join("crew").headers | {"Content-Type": kind})
        assert response.status_code == 415


ODD = [None, 5, "text", [], {}, {"id": 7}, {"id": "x" * 500}, {"id": str(uuid.uuid4()), "body": {"a": {}}}]


@pytest.mark.parametrize("odd", ODD, ids=range(len(ODD)))
def test_an_odd_event_is_rejected_alone(sync: Any, join: Join, job: str, odd: Any) -> None:
    ana = join("crew")
    good = sync.event(ana, job, "note.written", NOTE)
    answer = sync(ana, odd, good)
    assert answer["accepted"] == [good["id"]]
    [rejected] = answer["rejected"]
    named = isinstance(odd, dict) and isinstance(odd.get("id"), str)
    assert rejected["id" if named else "index"] == (odd["id"] if named else 0)
    assert set(rejected["why"]) >= {"code", "message", "do"}


HOSTILE = [
    {"depth_mm": 10**39},
    {"depth_mm": -0.0001},
    {"depth_mm": True},
    {"depth_mm": "6"},
    {"kind": "toe"},
    {"kind": []},
    {"bay": "\ud800"},
    {"load": "' OR 1=1 --"},
    {"spot": [[1, 2], 3]},
    {"spot": {"x": 1}},
]


@pytest.mark.parametrize("hostile", HOSTILE, ids=str)
def test_a_hostile_body_is_rejected_and_never_breaks_the_call(
    sync: Any, join: Join, job: str, hostile: dict[str, Any]
) -> None:
    ana = join("crew")
    body = {"load": str(uuid.uuid4()), "kind": "footprint", "depth_mm": 6.0} | hostile
    answer = sync(ana, sync.event(ana, job, "check.made", body))
    assert answer["accepted"] == []
    assert answer["rejected"][0]["why"]["code"] == "body_invalid"


def test_the_body_in_the_log_is_the_body_sent(sync: Any, join: Join, app: Flask, job: str) -> None:
    body = {"load": str(uuid.uuid4()), "kind": "footprint", "depth_mm": 6.25, "spot": [1, 2.5]}
    sync.record(join("crew"), job, "check.made", body)
    with app.app_context(), read() as session:
        assert session.scalars(select(Event)).one().body == body
