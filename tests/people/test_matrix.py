"""Every route by every sort of caller: a route missing from the table fails, and so does a wrong answer."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

Join = Callable[..., Any]
OPEN = frozenset({"none", "crew", "foreman", "office"})
JOINED = frozenset({"crew", "foreman", "office"})
LEADS = frozenset({"foreman", "office"})

# Who may call each route. "none" is a caller without a token.
MATRIX: dict[tuple[str, str], frozenset[str]] = {
    ("GET", "/"): OPEN,
    ("GET", "/<path:name>"): OPEN,
    ("GET", "/api/health"): OPEN,
    ("POST", "/api/join"): OPEN,
    ("POST", "/api/invites"): LEADS,
    ("GET", "/api/devices"): LEADS,
    ("POST", "/api/devices/<device_id>/revoke"): LEADS,
    ("PUT", "/api/me"): JOINED,
    ("POST", "/api/sync"): JOINED,
    ("PUT", "/api/photos/<sha256>"): JOINED,
    ("GET", "/api/photos/<sha256>"): JOINED,
    ("GET", "/api/outlook"): JOINED,
    ("GET", "/api/jobs"): JOINED,
    ("GET", "/api/jobs/<job>/events"): JOINED,
    ("GET", "/api/jobs/<job>/outlook"): JOINED,
    ("GET", "/api/board"): LEADS,
    ("GET", "/api/conflicts"): LEADS,
    ("GET", "/api/forecasts"): LEADS,
    ("GET", "/api/reminders/<reminder>"): JOINED,
    ("POST", "/api/jobs/<job>/what-if"): LEADS,
    ("GET", "/api/jobs/<job>/advice"): LEADS,
    ("GET", "/api/jobs/<job>/record.pdf"): LEADS,
    ("GET", "/api/jobs/<job>/taught"): LEADS,
    ("GET", "/api/lookback"): LEADS,
    ("GET", "/api/jobs/<job>/export.json"): LEADS,
    ("GET", "/api/export.zip"): LEADS,
    ("GET", "/api/jobs/import-template.csv"): LEADS,
    ("POST", "/api/jobs/import"): LEADS,
    ("POST", "/api/calendar"): JOINED,
    ("DELETE", "/api/calendar"): JOINED,
    ("GET", "/calendar/<secret>.ics"): OPEN,
    ("GET", "/api/push/key"): JOINED,
    ("POST", "/api/push/subscription"): JOINED,
    ("DELETE", "/api/push/subscription"): JOINED,
}
NO_ONE = ("revoked", "forged")


def routes(app: Flask) -> set[tuple[str, str]]:
    return {
        (method, rule.rule)
        for rule in app.url_map.iter_rules()
        for method in (rule.methods or set()) - {"HEAD", "OPTIONS"}
    }


def test_the_table_names_every_route_there_is(app: Flask) -> None:
    assert routes(app) == set(MATRIX)


@pytest.fixture
def headers(client: FlaskClient, join: Join) -> dict[str, dict[str, str]]:
    """What each sort of caller sends."""
    callers = {
        name: join(name if name != "revoked" else "foreman")
        for name in ("crew", "foreman", "office", "revoked")
    }
    client.post(f"/api/devices/{callers['revoked'].device}/revoke", headers=callers["foreman"].headers)
    forged = {"Authorization": "Bearer " + "A" * 64}
    return {"none": {}, "forged": forged} | {name: who.headers for name, who in callers.items()}


@pytest.mark.parametrize("caller", ["none", "crew", "foreman", "office", *NO_ONE])
@pytest.mark.parametrize(("method", "rule"), MATRIX, ids=lambda value: value)
def test_a_route_lets_in_exactly_those_it_is_for(
    client: FlaskClient, headers: dict[str, dict[str, str]], method: str, rule: str, caller: str
) -> None:
    path = rule.replace("<device_id>", str(uuid.uuid4())).replace("<sha256>", "0" * 64)
    path = path.replace("<path:name>", "nothing.txt").replace("<job>", str(uuid.uuid4()))
    sent = headers[caller]
    status = client.open(path, method=method, json={} if method != "GET" else None, headers=sent).status_code
    allowed = MATRIX[(method, rule)]
    if caller in allowed or allowed == OPEN:
        assert status not in (401, 403, 405, 500)
    else:
        assert status == (403 if caller in JOINED else 401)
