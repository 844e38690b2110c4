"""What the sync call takes and gives: its limits, its request, its outcome."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import datetime
from http import HTTPStatus
from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields
from marshmallow.validate import Length, Range

from slabtide.errors import AppError
from slabtide.json_body import load
from slabtide.log.instants import read_instant

MOST_EVENTS_IN = 1000
MOST_EVENTS_OUT = 2000
MOST_HELD = 500


class TooManyEventsError(AppError):
    """More events in one call than the server takes."""

    code = "too_many"
    status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE

    def __init__(self, count: int) -> None:
        super().__init__(
            f"{count} events in one call; at most {MOST_EVENTS_IN}.", "Send them in smaller batches."
        )


class Moment(fields.Field[datetime]):
    """An ISO 8601 moment with its offset."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> datetime:
        try:
            return read_instant(value)
        except (TypeError, ValueError, OverflowError):
            raise ValidationError("Must be a moment like 2026-07-14T13:05:00.000Z.") from None


class SyncSchema(Schema):
    """POST /api/sync. The events are read one by one later, so that one bad event never blocks the others."""

    cursor = fields.Integer(required=True, strict=True, validate=Range(min=0, max=2**53))
    events = fields.List(fields.Raw(allow_none=True), required=True)
    device_time = Moment(required=True)
    unsent = fields.Integer(strict=True, load_default=0, validate=Range(min=0, max=10_000_000))
    oldest_unsent_at = Moment(allow_none=True, load_default=None)
    own = fields.Boolean(truthy={True}, falsy={False}, load_default=False)
    held = fields.List(
        fields.String(validate=Length(min=1, max=36)),
        allow_none=True,
        load_default=None,
        validate=Length(max=MOST_HELD),
    )


class LimitSchema(Schema):
    """What stands in the address: how many events to give out at most, for a phone on a weak line."""

    class Meta:
        """Other parameters mean nothing here and harm nothing."""

        unknown = EXCLUDE

    limit = fields.Integer(load_default=MOST_EVENTS_OUT, validate=Range(min=1, max=MOST_EVENTS_OUT))


class AfterSchema(LimitSchema):
    """The same for one job's events: after which number, too."""

    after = fields.Integer(load_default=0, validate=Range(min=0, max=2**53))


_SCHEMA = SyncSchema()
_LIMIT = LimitSchema()
_AFTER = AfterSchema()


@dataclass(frozen=True, slots=True)
class SyncRequest:
    """A sync call as read. `unsent` is what the phone still keeps when this call is answered in full; `held`
    are the jobs it carries, None for all of them."""

    cursor: int
    events: list[Any]
    device_time: datetime
    unsent: int
    oldest_unsent_at: datetime | None
    own: bool
    held: list[str] | None = None


@dataclass(frozen=True, slots=True)
class Outcome:
    """What became of the events offered. `clamped`: the clock the log keeps where it is another."""

    accepted: list[str] = field(default_factory=list)
    rejected: list[dict[str, Any]] = field(default_factory=list)
    clamped: dict[str, str] = field(default_factory=dict)


def read_request(found: dict[str, Any]) -> SyncRequest:
    """The call in `found`. Raises `MalformedError` with the path, `TooManyEventsError`."""
    events = found.get("events")
    if isinstance(events, list) and len(events) > MOST_EVENTS_IN:
        raise TooManyEventsError(len(events))
    return SyncRequest(**load(_SCHEMA, found))


def read_limit(found: dict[str, Any]) -> int:
    """The most events to give out, 1 to 2000, as the address asks. Raises `MalformedError` naming `limit`."""
    limit: int = load(_LIMIT, found)["limit"] if found else MOST_EVENTS_OUT
    return limit


def read_after(found: dict[str, Any]) -> tuple[int, int]:
    """After which number and how many at most, as the address asks. Raises `MalformedError` naming it."""
    loaded = load(_AFTER, found)
    return loaded["after"], loaded["limit"]
