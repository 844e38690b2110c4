"""HTTP face of the reminders room: the push key and a device's subscription."""

import base64
import binascii
import uuid
from datetime import UTC, datetime
from typing import Any

from flask import Blueprint, current_app, jsonify
from flask.typing import ResponseReturnValue
from marshmallow import Schema, ValidationError, fields
from marshmallow.validate import Length
from sqlalchemy import update

from slabtide.config import current_config
from slabtide.errors import AppError
from slabtide.json_body import load, read_object
from slabtide.people import caller, require
from slabtide.reminders.hosts import LONGEST_ENDPOINT, EndpointRefusedError, check_endpoint
from slabtide.reminders.keys import public_key, read_key
from slabtide.store.session import write
from slabtide.store.tables import PushSubscription
from slabtide.store.upsert import insert_into

push = Blueprint("push", __name__, url_prefix="/api/push")
_POINT_BYTES, _SECRET_BYTES = 65, 16


class NotAPushServiceError(AppError):
    """The endpoint is none this server may call."""

    code = "push_endpoint_refused"

    def __init__(self, why: str) -> None:
        super().__init__(
            why, "Use a browser whose push service is known here, or ask the office.", path="endpoint"
        )


class _Bytes(fields.Field[str]):
    """Base64url text of a fixed number of bytes."""

    def __init__(self, length: int) -> None:
        super().__init__(required=True)
        self.length = length

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        try:
            raw = base64.urlsafe_b64decode(value + "=" * (-len(value) % 4))
        except (TypeError, ValueError, binascii.Error):
            raise ValidationError("Must be base64url text.") from None
        if len(raw) != self.length:
            raise ValidationError(f"Must hold {self.length} bytes.")
        return base64.urlsafe_b64encode(raw).decode().rstrip("=")


class _Keys(Schema):
    p256dh = _Bytes(_POINT_BYTES)
    auth = _Bytes(_SECRET_BYTES)


class _Subscription(Schema):
    endpoint = fields.String(required=True, validate=Length(1, LONGEST_ENDPOINT))
    keys = fields.Nested(_Keys, required=True)


class _Endpoint(Schema):
    endpoint = fields.String(required=True, validate=Length(1, LONGEST_ENDPOINT))


@push.get("/key")
@require()
def key() -> ResponseReturnValue:
    """The public key a browser subscribes with."""
    return jsonify(key=public_key(read_key(current_config().vapid_key_file)))


@push.post("/subscription")
@require()
def subscribe() -> ResponseReturnValue:
    """Keep where this device's push service takes messages. Phones post it again at every start: a
    subscription dies without a word."""
    wanted = load(_Subscription(), read_object())
    try:
        check_endpoint(wanted["endpoint"], current_config().push_hosts)
    except EndpointRefusedError as error:
        raise NotAPushServiceError(str(error)) from None
    with write() as session:
        new = insert_into(session, PushSubscription).values(
            company_id=caller().company_id,
            id=str(uuid.uuid4()),
            device=caller().device_id,
            endpoint=wanted["endpoint"],
            created_at=datetime.now(UTC),
            **wanted["keys"],
        )
        kept = {"device": caller().device_id, "retired_at": None, "why": None, **wanted["keys"]}
        session.execute(
            new.on_conflict_do_update(
                index_elements=[PushSubscription.company_id, PushSubscription.endpoint], set_=kept
            )
        )
        _retire_others(session, wanted["endpoint"])
    current_app.logger.info("device %s takes notifications", caller().device_id)
    return "", 204


@push.delete("/subscription")
@require()
def unsubscribe() -> ResponseReturnValue:
    """Send no more to this device; other devices' subscriptions are out of reach."""
    wanted = load(_Endpoint(), read_object())
    with write() as session:
        session.execute(
            update(PushSubscription)
            .where(
                PushSubscription.company_id == caller().company_id,
                PushSubscription.device == caller().device_id,
                PushSubscription.endpoint == wanted["endpoint"],
            )
            .values(retired_at=datetime.now(UTC), why="turned off on the device")
        )
    return "", 204


def _retire_others(session: Any, endpoint: str) -> None:
    """A device has one subscription: a new one takes the place of what it had."""
    session.execute(
        update(PushSubscription)
        .where(
            PushSubscription.company_id == caller().company_id,
            PushSubscription.device == caller().device_id,
            PushSubscription.endpoint != endpoint,
            PushSubscription.retired_at.is_(None),
        )
        .values(retired_at=datetime.now(UTC), why="replaced by a newer subscription")
    )
