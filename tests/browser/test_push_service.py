"""The test's own push service must open what the product's sender sends, and refuse a forged sender."""

import json

import pytest
from cryptography.exceptions import InvalidSignature
from py_vapid import Vapid02
from pywebpush import webpush
from tests.browser.push_service import PushService

SUBSCRIBER = {"sub": "mailto:foreman@slabtide.example"}


def test_what_is_sent_is_opened_again(push_service: PushService) -> None:
    key = Vapid02()
    key.generate_keys()
    body = json.dumps({"web_push": 8030, "notification": {"title": "Saw by 7:40 pm", "tag": "a"}})
    webpush(
        push_service.subscription("one"), body, vapid_private_key=key, vapid_claims=dict(SUBSCRIBER), ttl=60
    )
    sent = push_service.next(within_s=5)
    assert push_service.opened(sent)["notification"]["title"] == "Saw by 7:40 pm"
    assert sent.headers["ttl"] == "60"
    assert push_service.sender_of(sent)["sub"] == SUBSCRIBER["sub"]


def test_a_forged_sender_is_seen(push_service: PushService) -> None:
    key = Vapid02()
    key.generate_keys()
    webpush(
        push_service.subscription("one"), "{}", vapid_private_key=key, vapid_claims=dict(SUBSCRIBER), ttl=60
    )
    sent = push_service.next(within_s=5)
    token = sent.headers["authorization"]
    changed = token.replace("t=ey", "t=eX", 1)
    with pytest.raises((InvalidSignature, ValueError)):
        push_service.sender_of(type(sent)(sent.path, {**sent.headers, "authorization": changed}, sent.body))
