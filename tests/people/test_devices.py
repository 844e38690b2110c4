"""Devices: seen by foreman and office, shut out at once, and never at the cost of unsent work."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from slabtide.people import invites
from slabtide.people.tokens import company_of, new_token
from slabtide.store.session import read, write
from slabtide.store.tables import PushSubscription

Join = Callable[..., Any]


def revoke(client: FlaskClient, by: Any, device: str) -> int:
    return client.post(f"/api/devices/{device}/revoke", headers=by.headers).status_code


def test_the_list_says_who_and_what_is_unsent(client: FlaskClient, join: Join, sync: Any) -> None:
    by, luis = join("foreman"), join("crew", name="Luis")
    sync(luis, unsent=4, oldest_unsent_at="2026-07-14T13:05:00.000Z")
    found = client.get("/api/devices", headers=by.headers).get_json()["devices"]
    [mine] = [device for device in found if device["id"] == luis.device]
    assert (mine["person"]["name"], mine["unsent"]) == ("Luis", 4)
    assert mine["oldest_unsent_at"] == "2026-07-14T13:05:00.000Z"
    assert [device["this"] for device in found if device["id"] == by.device] == [True]


def test_a_revoked_device_is_told_so_at_its_next_call(client: FlaskClient, join: Join, sync: Any) -> None:
    by, luis = join("foreman"), join("crew")
    assert revoke(client, by, luis.device) == 200
    response = sync.offer(luis, [])
    assert response.status_code == 401
    assert response.get_json()["error"]["code"] == "device_revoked"
    assert revoke(client, by, luis.device) == 200, "again changes nothing"


def test_what_a_revoked_phone_kept_is_taken_after_it_joins_again(
    app: Flask, client: FlaskClient, join: Join, sync: Any, job: str
) -> None:
    by, luis = join("foreman"), join("crew", name="Luis")
    kept = sync.event(luis, job, "note.written", {"text": "written before the phone was shut out"})
    revoke(client, by, luis.device)
    assert sync.offer(luis, [kept]).status_code == 401
    with app.app_context():
        made = invites.invite(by.company, "crew", now=datetime.now(UTC), minutes=10, person_id=luis.person)
        body = {"code": made.code, "person_name": "Luis", "device_name": "same phone"}
    token = client.post("/api/join", json=body).get_json()["token"]
    call = {"cursor": 0, "events": [kept], "device_time": kept["at"]}
    answer = client.post("/api/sync", json=call, headers={"Authorization": f"Bearer {token}"}).get_json()
    assert answer["accepted"] == [kept["id"]]


def test_an_event_of_another_person_or_another_persons_device_is_refused(
    join: Join, sync: Any, job: str
) -> None:
    ana, luis = join("crew"), join("crew")
    forged = sync.event(luis, job, "note.written", {"text": "x"})
    theirs = sync.event(luis, job, "note.written", {"text": "x"}, author=ana.person)
    answer = sync(ana, forged, theirs)
    assert [why["why"]["code"] for why in answer["rejected"]] == ["author_mismatch", "device_mismatch"]


def test_no_one_revokes_across_companies(app: Flask, client: FlaskClient, join: Join, sync: Any) -> None:
    from slabtide.people.companies import create_company

    with app.app_context():
        other = create_company("Someone Else")
    stranger, luis = join("foreman", company=other), join("crew")
    assert revoke(client, stranger, luis.device) == 404
    assert sync.offer(luis, []).status_code == 200


def test_crew_may_sign_out_their_own_device_and_no_other(client: FlaskClient, join: Join) -> None:
    luis, ana = join("crew"), join("crew")
    assert revoke(client, luis, ana.device) == 403
    assert revoke(client, luis, luis.device) == 200


def test_a_revoked_device_gets_no_more_pushes(app: Flask, client: FlaskClient, join: Join) -> None:
    by, luis = join("foreman"), join("crew")
    where = PushSubscription(
        company_id=by.company,
        id="s1",
        device=luis.device,
        endpoint="https://push.test/1",
        p256dh="k",
        auth="a",
        created_at=datetime.now(UTC),
    )
    with app.app_context():
        with write() as session:
            session.add(where)
        revoke(client, by, luis.device)
        with read() as session:
            found = session.get_one(PushSubscription, (by.company, "s1"))
    assert (found.retired_at is not None, found.why) == (True, "device revoked")


BAD_TOKENS = ["", "Bearer", "Bearer ", "Basic abc", "Bearer x", "Bearer " + "A" * 64, "Bearer " + "é" * 64]


@pytest.mark.parametrize("header", BAD_TOKENS)
def test_a_token_that_is_none_is_refused(client: FlaskClient, company: str, header: str) -> None:
    response = client.get("/api/devices", headers={"Authorization": header.encode().decode("latin-1")})
    assert response.status_code == 401
    assert response.get_json()["error"]["code"] in {"token_missing", "token_unknown"}


def test_a_token_has_256_random_bits_and_names_its_company(company: str) -> None:
    tokens = {new_token(company) for _ in range(100)}
    assert len(tokens) == 100
    assert {company_of(token) for token in tokens} == {company}
    assert len({token[22:] for token in tokens}) == 100


def test_the_language_of_reminders_can_be_changed(client: FlaskClient, join: Join) -> None:
    luis = join("crew")
    assert client.put("/api/me", json={"language": "es"}, headers=luis.headers).status_code == 204
    assert client.put("/api/me", json={"language": "xx"}, headers=luis.headers).status_code == 400
