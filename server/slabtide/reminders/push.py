"""Send one push message: the protocol, and Web Push by RFC 8030, 8188, 8291 and 8292.

The payload is in the declarative form that browsers show even where the service worker fails.
"""

import base64
import hashlib
import json
import logging
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime
from email.utils import parsedate_to_datetime
from typing import Any, Literal, Protocol

import requests
from py_vapid import Vapid01
from pywebpush import WebPushException, webpush

from slabtide.reminders.contract import iso
from slabtide.reminders.hand_work import HAND_WORK
from slabtide.reminders.hosts import EndpointRefusedError, check_endpoint

LONGEST_PAYLOAD_BYTES = 3993  # 4,096 on the wire once encrypted (RFC 8030 section 7.2, RFC 8188 overhead)
TIMEOUT_S = 10.0
_SHORTEST_BODY = 20
_log = logging.getLogger(__name__)

Urgency = Literal["normal", "high"]


class PayloadTooLargeError(ValueError):
    """The message does not fit a push even with its text cut short."""


@dataclass(frozen=True, slots=True)
class PushTarget:
    """Where a device listens: its endpoint, and the two keys of its subscription (base64url)."""

    endpoint: str
    p256dh: str
    auth: str


@dataclass(frozen=True, slots=True)
class PushMessage:
    """What is sent: the payload, how long the service may keep it [s], what it replaces, how urgent."""

    payload: bytes
    ttl_s: int
    topic: str
    urgency: Urgency


@dataclass(frozen=True, slots=True)
class Outcome:
    """What came of it. `gone`: the subscription is dead; `later`: try again; `refused`: never will."""

    kind: Literal["sent", "gone", "later", "refused"]
    status: int | None
    error: str | None = None
    retry_after_s: float | None = None


class PushSender(Protocol):
    """Anything that can send a push. It answers with an outcome and raises nothing."""

    def send(self, target: PushTarget, message: PushMessage, now: datetime) -> Outcome:
        """Send once, within ten seconds."""
        ...


def topic_of(reminder: str) -> str:
    """The Topic header of a reminder: at most 32 URL-safe characters, the same for each send of it."""
    digest = hashlib.sha256(reminder.encode()).digest()
    return base64.urlsafe_b64encode(digest).decode()[:32]


@dataclass(frozen=True, slots=True)
class About:
    """What a push is about. `what`: the kind of work; `due`: its time, which tells a phone that raised it."""

    reminder: str
    job: str
    what: str
    due: datetime

    @property
    def page(self) -> str:
        """The phase in which that work is done."""
        return "texture" if self.what in HAND_WORK else "next-days"


def payload_of(about: About, title: str, body: str, language: str, act: str) -> bytes:
    """The declarative push message, at most 3,993 bytes; a body that is too long is cut with an ellipsis.

    Raises: PayloadTooLargeError when the rest alone is too large.
    """

    def encoded(text: str) -> bytes:
        notification = {
            "title": title,
            "body": text,
            "navigate": f"/#/job/{about.job}/{about.page}",
            "tag": about.reminder,
            "lang": language,
            "data": {
                "reminder": about.reminder,
                "job": about.job,
                "what": about.what,
                "due": iso(about.due),
            },
            "actions": [{"action": "acknowledge", "title": act}],
        }
        message = {"web_push": 8030, "notification": notification}
        return json.dumps(message, ensure_ascii=False, separators=(",", ":")).encode()

    text = body
    while len(whole := encoded(text)) > LONGEST_PAYLOAD_BYTES:
        if len(text) <= _SHORTEST_BODY:
            raise PayloadTooLargeError(f"{len(whole)} bytes; at most {LONGEST_PAYLOAD_BYTES} fit.")
        over = len(whole) - LONGEST_PAYLOAD_BYTES
        text = text[: max(_SHORTEST_BODY - 1, len(text) - max(over // 6, 2))].rstrip("…") + "…"
    return whole


class _DirectSession(requests.Session):
    """Follows no redirect: the endpoint was checked, the place it might point to was not."""

    def request(self, *args: Any, **kwargs: Any) -> requests.Response:
        kwargs["allow_redirects"] = False
        return super().request(*args, **kwargs)


@dataclass(frozen=True, slots=True)
class WebPushSender:
    """Web Push signed with one VAPID key. `contact`: mailto: or https: address of whoever runs the server."""

    key: Vapid01
    contact: str
    extra_hosts: Sequence[str] = ()
    session: Callable[[], requests.Session] = _DirectSession

    def send(self, target: PushTarget, message: PushMessage, now: datetime) -> Outcome:
        """Send once. A refused, hanging or failing service is an outcome, never an exception."""
        if len(message.payload) > LONGEST_PAYLOAD_BYTES:
            return Outcome("refused", None, f"{len(message.payload)} bytes are too large to push")
        try:
            check_endpoint(target.endpoint, self.extra_hosts)
            with self.session() as session:
                response = self._post(session, target, message)
        except EndpointRefusedError as error:
            return Outcome("refused", None, str(error))
        except WebPushException as error:
            return _outcome(error.response, str(error), now)
        except requests.RequestException as error:
            return Outcome("later", None, f"{type(error).__name__}: {error}")
        except ValueError as error:  # keys that are no keys
            return Outcome("refused", None, f"{type(error).__name__}: {error}")
        return Outcome("sent", response.status_code)

    def _post(self, session: requests.Session, target: PushTarget, message: PushMessage) -> requests.Response:
        # The library writes `aud` and `exp` into the claims it is given: a fresh dict for each send.
        response = webpush(
            {"endpoint": target.endpoint, "keys": {"p256dh": target.p256dh, "auth": target.auth}},
            data=message.payload,
            vapid_private_key=self.key,
            vapid_claims={"sub": self.contact},
            timeout=TIMEOUT_S,
            ttl=message.ttl_s,
            headers={"Topic": message.topic, "Urgency": message.urgency},
            requests_session=session,
        )
        assert isinstance(response, requests.Response)
        return response


def _outcome(response: requests.Response | None, error: str, now: datetime) -> Outcome:
    if response is None:
        return Outcome("refused", None, error)
    status = response.status_code
    if status in (404, 410):
        return Outcome("gone", status, error)
    # 401 and 403: a key of ours is wrong (RFC 8292); once it is put right the next try goes through
    if status in (401, 403, 429) or status >= 500:
        return Outcome("later", status, error, _retry_after_s(response.headers.get("Retry-After"), now))
    return Outcome("refused", status, error)


def _retry_after_s(value: str | None, now: datetime) -> float | None:
    """Seconds to wait by a Retry-After header: a number, or a date; None when it says neither."""
    if value is None:
        return None
    if value.strip().isdigit():
        return float(value)
    try:
        at = parsedate_to_datetime(value)
    except ValueError:
        return None
    return max(0.0, (at.replace(tzinfo=at.tzinfo or UTC) - now).total_seconds())
