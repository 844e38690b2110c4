"""Joining: a code lets one device in, once, for ten minutes."""

from __future__ import annotations

import logging
import threading
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient
from sqlalchemy import func, select
from tests.conftest import config_in
from werkzeug.test import TestResponse

from slabtide.app import create_app
from slabtide.people import codes, guessing, invites
from slabtide.people.companies import create_company
from slabtide.people.joining import join_person
from slabtide.store import database
from slabtide.store.session import read
from slabtide.store.tables import Device, Invite, Person

Join = Callable[..., Any]


def invite(client: FlaskClient, by: Any, role: str = "crew", **more: Any) -> dict[str, Any]:
    response = client.post("/api/invites", json={"role": role} | more, headers=by.headers)
    assert response.status_code == 201, response.get_data(as_text=True)
    made: dict[str, Any] = response.get_json()
    return made


def redeem(client: FlaskClient, code: str, name: str = "Luis", address: str = "10.0.0.1") -> TestResponse:
    body = {"code": code, "person_name": name, "device_name": "Luis's phone", "language": "es"}
    return client.post("/api/join", json=body, environ_base={"REMOTE_ADDR": address})


def error(response: TestResponse) -> tuple[int, str]:
    return response.status_code, response.get_json()["error"]["code"]


def test_a_code_lets_a_phone_in_with_the_role_it_was_made_for(client: FlaskClient, join: Join) -> None:
    made = invite(client, join("foreman"))
    response = redeem(client, made["code"])
    assert response.status_code == 201
    answer = response.get_json()
    assert (answer["role"], answer["person"]["name"]) == ("crew", "Luis")
    headers = {"Authorization": f"Bearer {answer['token']}"}
    body = {"cursor": 0, "events": [], "device_time": answer["server_time"]}
    assert client.post("/api/sync", json=body, headers=headers).status_code == 200


def test_the_link_keeps_the_code_behind_the_hash_and_the_qr_is_a_drawing(
    client: FlaskClient, join: Join
) -> None:
    made = invite(client, join("office"), "foreman")
    plain = made["code"].replace("-", "")
    assert made["link"] == f"https://slab.test/#/join/{plain}"
    assert len(plain) == 8
    assert set(plain) <= set(codes.ALPHABET)
    assert made["qr_svg"].startswith("<svg")


def test_without_a_set_address_the_link_is_the_one_the_caller_came_by(home: Path) -> None:
    app = create_app(config_in(home, base_url=None))
    with app.app_context():
        by = join_person(create_company("One"), "Ana", "foreman", device_name="phone")
    headers = {"Authorization": f"Bearer {by.token}", "Host": "192.168.1.7:8321"}
    made = app.test_client().post("/api/invites", json={"role": "crew"}, headers=headers).get_json()
    database.dispose(app)
    assert made["link"].startswith("http://192.168.1.7:8321/#/join/")


@pytest.mark.parametrize("typed", ["{}-{}", "{} {}", "{}{}", " {}-{} "])
def test_a_code_is_read_however_it_is_typed(client: FlaskClient, join: Join, typed: str) -> None:
    code = invite(client, join("foreman"))["code"].lower()
    assert redeem(client, typed.format(*code.split("-"))).status_code == 201


def test_letters_that_look_like_digits_are_read_as_digits() -> None:
    assert codes.read_code("oil0-il1o") == "01101110"
    assert codes.read_code("UUUU-UUUU") is None


def test_a_code_works_once(client: FlaskClient, join: Join) -> None:
    code = invite(client, join("foreman"))["code"]
    assert redeem(client, code).status_code == 201
    assert error(redeem(client, code)) == (410, "code_expired")


def test_an_old_code_is_refused_and_says_what_to_do(app: Flask, company: str, client: FlaskClient) -> None:
    with app.app_context():
        made = invites.invite(company, "crew", now=datetime.now(UTC) - timedelta(minutes=11), minutes=10)
    response = redeem(client, made.code)
    assert error(response) == (410, "code_expired")
    assert "new code" in response.get_json()["error"]["do"]


def test_previews_and_bots_that_fetch_the_link_spend_nothing(client: FlaskClient, join: Join) -> None:
    made = invite(client, join("foreman"))
    path = made["link"].removeprefix("https://slab.test").split("#")[0]
    for agent in ("PreviewBot", "ChatPreview/2", "LinkExpander", "externalhit", "curl/8"):
        client.get(path, headers={"User-Agent": agent})
        client.head(path, headers={"User-Agent": agent})
        assert client.get("/api/join", headers={"User-Agent": agent}).status_code == 405
    assert redeem(client, made["code"]).status_code == 201


def test_fifty_at_once_with_one_code_let_one_in(app: Flask, join: Join) -> None:
    code = invite(app.test_client(), join("foreman"))["code"]
    with app.app_context(), read() as session:
        before = session.scalar(select(func.count()).select_from(Device))
    statuses: list[int] = []
    gate = threading.Barrier(50)

    def one(n: int) -> None:
        gate.wait()
        statuses.append(redeem(app.test_client(), code, f"P{n}", f"10.0.1.{n}").status_code)

    threads = [threading.Thread(target=one, args=(n,)) for n in range(50)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert sorted(statuses) == [201] + [410] * 49
    with app.app_context(), read() as session:
        assert session.scalar(select(func.count()).select_from(Device)) == before + 1


def test_guessing_from_one_address_is_stopped_after_ten(client: FlaskClient, join: Join) -> None:
    good = invite(client, join("foreman"))["code"]
    found = [error(redeem(client, codes.new_code())) for _ in range(12)]
    assert found == [(404, "code_unknown")] * guessing.PER_ADDRESS + [(429, "too_many_codes")] * 2
    refused = redeem(client, good)
    assert (error(refused), refused.headers["Retry-After"]) == ((429, "too_many_codes"), "600")
    assert redeem(client, good, address="10.9.9.9").status_code == 201


def test_guessing_from_many_addresses_is_stopped_in_all(app: Flask) -> None:
    now = datetime.now(UTC)
    with app.app_context():
        for n in range(guessing.IN_ALL):
            guessing.begin_attempt(f"10.0.{n // 9}.1", now)
        with pytest.raises(guessing.TooManyCodesError):
            guessing.begin_attempt("10.99.0.1", now)
        guessing.begin_attempt("10.99.0.1", now + guessing.WINDOW)


def test_the_database_keeps_neither_tokens_nor_codes(app: Flask, client: FlaskClient, join: Join) -> None:
    by = join("foreman")
    secrets = [by.token]
    for n in range(20):
        code = invite(client, by)["code"]
        secrets += [code, code.replace("-", "")]
        secrets.append(redeem(client, code, f"P{n}").get_json()["token"])
    home = app.extensions["slabtide.config"].home
    stored = b"".join(file.read_bytes() for file in home.glob("slabtide.db*"))
    assert [secret for secret in secrets if secret.encode() in stored] == []
    with app.app_context(), read() as session:
        assert all(len(row) == 64 for row in session.scalars(select(Device.token_sha256)))
        assert all(len(row) == 64 for row in session.scalars(select(Invite.code_hash)))


def test_no_log_line_holds_a_token_or_a_code(
    client: FlaskClient, join: Join, caplog: pytest.LogCaptureFixture
) -> None:
    caplog.set_level(logging.DEBUG)
    made = invite(client, join("foreman"))
    token = redeem(client, made["code"]).get_json()["token"]
    redeem(client, made["code"])
    client.get("/api/devices", headers={"Authorization": f"Bearer {token}"})
    assert made["code"] not in caplog.text
    assert made["code"].replace("-", "") not in caplog.text
    assert token not in caplog.text


def test_a_code_made_for_a_person_keeps_who_they_are(app: Flask, client: FlaskClient, join: Join) -> None:
    by, luis = join("foreman"), join("crew", name="Luis Ortega")
    made = invite(client, by, "foreman", person_name="luis  ortega")
    assert made["person"] == {"id": luis.person, "name": "Luis Ortega"}
    answer = redeem(client, made["code"], "Luis").get_json()
    assert answer["person"] == {"id": luis.person, "name": "Luis Ortega"}
    with app.app_context(), read() as session:
        assert session.get_one(Person, (by.company, luis.person)).role == "foreman"


def test_a_code_for_one_of_two_with_the_same_name_has_to_say_which(client: FlaskClient, join: Join) -> None:
    by, first, _ = join("foreman"), join("crew", name="Jose"), join("crew", name="José".replace("é", "e"))
    response = client.post("/api/invites", json={"role": "crew", "person_name": "Jose"}, headers=by.headers)
    assert error(response) == (409, "person_unclear")
    assert invite(client, by, person=first.person)["person"]["id"] == first.person


BAD_JOINS = [
    ({"code": "AAAA-AAAA", "person_name": " ", "device_name": "d"}, "person_name"),
    ({"code": "AAAA-AAAA", "person_name": "x" * 81, "device_name": "d"}, "person_name"),
    ({"code": "AAAA-AAAA", "person_name": "a\x00b", "device_name": "d"}, "person_name"),
    ({"code": "AAAA-AAAA", "person_name": "\ud800", "device_name": "d"}, "person_name"),
    ({"code": 12345678, "person_name": "Luis", "device_name": "d"}, "code"),
    ({"person_name": "Luis", "device_name": "d"}, "code"),
    ({"code": "AAAA-AAAA", "person_name": "Luis", "device_name": "d", "language": "fr"}, "language"),
    ({"code": "AAAA-AAAA", "person_name": "Luis", "device_name": "d", "role": "office"}, "role"),
]


@pytest.mark.parametrize(("body", "path"), BAD_JOINS)
def test_a_malformed_join_names_the_field(client: FlaskClient, body: dict[str, Any], path: str) -> None:
    response = client.post("/api/join", json=body)
    assert response.status_code == 400
    assert response.get_json()["error"]["path"] == path


def test_something_that_is_no_code_is_unknown(client: FlaskClient, company: str) -> None:
    for n, text in enumerate(("", "A", "ABCD-EFGH-J", "ÄBCD-EFGH", "\ud800" * 8, "-" * 39)):
        assert error(redeem(client, text, address=f"10.0.5.{n}")) == (404, "code_unknown")
