"""A device says where it takes notifications; nobody else can, and nowhere else but a push service."""

from collections.abc import Callable
from typing import Any

import pytest
from flask.testing import FlaskClient
from tests.conftest import Joined
from tests.reminders.conftest import Scene
from tests.reminders.push_service import padded

from slabtide.config import config_of
from slabtide.reminders.keys import public_key, read_key

Join = Callable[..., Joined]


def test_the_key_is_the_public_half_of_the_servers_own(scene: Scene, foreman: Joined) -> None:
    answer = scene.client.get("/api/push/key", headers=foreman.headers).get_json()
    assert answer["key"] == public_key(read_key(config_of(scene.app).vapid_key_file))
    assert (len(padded(answer["key"])), padded(answer["key"])[0]) == (65, 4)


def test_without_a_key_the_answer_says_what_to_run(client: FlaskClient, join: Join) -> None:
    answer = client.get("/api/push/key", headers=join("crew").headers)
    assert answer.status_code == 503
    assert answer.get_json()["error"]["code"] == "push_not_set_up"
    assert "slabtide keys" in answer.get_json()["error"]["do"]


def test_posting_a_subscription_again_keeps_one_and_revives_it(scene: Scene, foreman: Joined) -> None:
    answer = scene.client.delete(
        "/api/push/subscription",
        json={"endpoint": scene.service.subscription("lead")["endpoint"]},
        headers=foreman.headers,
    )
    assert answer.status_code == 204
    assert scene.subscriptions()["lead"].why == "turned off on the device"
    scene.subscribe(foreman, "lead")
    scene.subscribe(foreman, "lead")
    (row,) = scene.subscriptions().values()
    assert (row.retired_at, row.why) == (None, None)


def test_a_newer_subscription_of_a_device_takes_the_place_of_its_older_one(
    scene: Scene, foreman: Joined
) -> None:
    scene.subscribe(foreman, "lead-new")
    found = scene.subscriptions()
    assert found["lead"].why == "replaced by a newer subscription"
    assert found["lead-new"].retired_at is None


def test_a_browser_that_changes_hands_follows_its_new_device(
    scene: Scene, foreman: Joined, join: Join
) -> None:
    luis = join("crew")
    scene.subscribe(luis, "lead")
    (row,) = scene.subscriptions().values()
    assert row.device == luis.device


def test_nobody_turns_off_another_devices_notifications(scene: Scene, foreman: Joined, join: Join) -> None:
    endpoint = scene.service.subscription("lead")["endpoint"]
    scene.client.delete("/api/push/subscription", json={"endpoint": endpoint}, headers=join("crew").headers)
    assert scene.subscriptions()["lead"].retired_at is None


def test_an_endpoint_that_is_no_push_service_is_refused_in_words(scene: Scene, foreman: Joined) -> None:
    body = scene.service.subscription("lead") | {"endpoint": "https://169.254.169.254/latest"}
    answer = scene.client.post("/api/push/subscription", json=body, headers=foreman.headers)
    assert answer.status_code == 400
    error = answer.get_json()["error"]
    assert (error["code"], error["path"]) == ("push_endpoint_refused", "endpoint")
    assert error["message"] == "169.254.169.254 is no push service known here."


@pytest.mark.parametrize(
    ("changed", "path"),
    [
        ({"endpoint": ""}, "endpoint"),
        ({"endpoint": 7}, "endpoint"),
        ({"keys": {"p256dh": "AAAA", "auth": "c2l4dGVlbiBieXRlIGtleQ"}}, "keys.p256dh"),
        ({"keys": {"p256dh": 5, "auth": "c2l4dGVlbiBieXRlIGtleQ"}}, "keys.p256dh"),
        ({"keys": None}, "keys"),
        ({"extra": 1}, "extra"),
    ],
)
def test_a_malformed_subscription_is_named_by_its_path(
    scene: Scene, foreman: Joined, changed: dict[str, Any], path: str
) -> None:
    body = scene.service.subscription("lead") | changed
    answer = scene.client.post("/api/push/subscription", json=body, headers=foreman.headers)
    assert answer.status_code == 400
    assert answer.get_json()["error"]["path"] == path


def test_every_push_address_needs_a_token(client: FlaskClient) -> None:
    assert client.get("/api/push/key").status_code == 401
    assert client.post("/api/push/subscription", json={}).status_code == 401
    assert client.delete("/api/push/subscription", json={}).status_code == 401
