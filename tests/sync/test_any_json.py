"""Whatever JSON arrives, the answer is an answer: never a failure of the server, never a good event lost."""

from __future__ import annotations

import json
import uuid
from collections.abc import Callable
from typing import Any

from flask.testing import FlaskClient
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

Join = Callable[..., Any]
# One application serves all examples of a test: what one example stores must not matter to the next.
SHARED = settings(
    max_examples=150,
    deadline=None,
    suppress_health_check=[HealthCheck.function_scoped_fixture],
    derandomize=True,
)
LEAF = (
    st.none()
    | st.booleans()
    | st.integers()
    | st.floats()
    | st.text(max_size=20)
    | st.sampled_from(["", "\x00", "\ud800", "9" * 30, str(uuid.UUID(int=0)), "2026-02-30T00:00:00.000Z"])
)
ANY = st.recursive(
    LEAF,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=8), inner, max_size=4),
    max_leaves=12,
)
FIELDS = ["id", "job", "kind", "body", "at", "clock", "device", "author", "raw_at", "seq"]
BODIES = {
    "load.placed": {"load": str(uuid.uuid4()), "from": "2026-07-14T13:05:00Z", "to": "2026-07-14T13:25:00Z"},
    "weather.noted": {"air_temp_c": 21.5, "rh": 0.5, "wind_kmh": 10.0, "raining": False},
    "bay.drawn": {"bay": str(uuid.uuid4()), "label": "1", "corners": [[0, 0], [4, 0], [4, 3]], "order": 0},
}


def send(client: FlaskClient, path: str, method: str, body: Any, headers: dict[str, str]) -> Any:
    data = json.dumps(body)  # NaN and lone surrogates go out as Python writes them, as a broken phone's would
    return client.open(path, method=method, data=data, headers=headers | {"Content-Type": "application/json"})


@SHARED
@given(odd=st.lists(ANY, max_size=4))
def test_any_list_of_events_is_answered_and_the_good_one_is_kept(
    client: FlaskClient, sync: Any, join: Join, job: str, odd: list[Any]
) -> None:
    ana = join("foreman")
    good = sync.event(ana, job, "note.written", {"text": "x"})
    body = {"cursor": 10**9, "events": [*odd, good], "device_time": good["at"]}
    response = send(client, "/api/sync", "POST", body, ana.headers)
    if response.status_code == 200:
        assert response.get_json()["accepted"] == [good["id"]]
        assert len(response.get_json()["rejected"]) == len(odd)
    else:
        assert (response.status_code, response.get_json()["error"]["code"]) == (400, "malformed")


@SHARED
@given(kind=st.sampled_from(sorted(BODIES)), path=st.sampled_from(FIELDS) | st.integers(0, 9), value=ANY)
def test_one_wrong_field_anywhere_is_rejected_or_harmless(
    client: FlaskClient, sync: Any, join: Join, job: str, kind: str, path: Any, value: Any
) -> None:
    ana, luis = join("foreman"), join("crew")
    event = sync.event(ana, job, kind, dict(BODIES[kind]))
    if isinstance(path, str):
        event[path] = value
    else:
        names = sorted(event["body"])
        event["body"][names[path % len(names)]] = value
    body = {"cursor": 10**9, "events": [event], "device_time": "2026-07-14T13:05:00.000Z"}
    response = send(client, "/api/sync", "POST", body, ana.headers)
    assert response.status_code in (200, 400)
    if response.status_code == 200:
        answer = response.get_json()
        assert len(answer["accepted"]) + len(answer["rejected"]) == 1
        again = send(client, "/api/sync", "POST", body | {"events": [], "cursor": 0}, luis.headers).get_json()
        assert json.loads(json.dumps(again["events"], allow_nan=False)) == again["events"]


ROUTES = [
    ("POST", "/api/join"),
    ("POST", "/api/invites"),
    ("PUT", "/api/me"),
    ("POST", "/api/sync"),
    ("POST", "/api/push/subscription"),
    ("DELETE", "/api/push/subscription"),
]
NAMES = ["code", "person_name", "device_name", "language", "role", "cursor", "events", "endpoint", "keys"]


@SHARED
@given(route=st.sampled_from(ROUTES), body=ANY | st.dictionaries(st.sampled_from(NAMES), ANY, max_size=5))
def test_any_json_at_any_address_gets_an_error_in_our_shape(
    client: FlaskClient, join: Join, route: tuple[str, str], body: Any
) -> None:
    response = send(client, route[1], route[0], body, join("foreman").headers)
    assert response.status_code < 500 or response.get_json()["error"]["code"] == "push_not_set_up"
    if response.status_code >= 400:
        assert set(response.get_json()["error"]) >= {"code", "message", "do"}
