"""One event as it comes over the wire: read strictly, or rejected with what is wrong and what to do."""

import json
import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from functools import cache
from typing import Any

from slabtide.log import clock as clocks
from slabtide.log.instants import read_instant
from slabtide.log.kinds import KINDS, Kind
from slabtide.log.kinds.fields import UUID, Body

EARLIEST = datetime(2020, 1, 1, tzinfo=UTC)
MAX_AHEAD = timedelta(days=400)
MAX_BODY_BYTES = 64 * 1024
FIELDS = ("id", "job", "kind", "body", "at", "clock", "device", "author", "raw_at")
# Made once: making one for each event costs more than encoding it.
_JSON = json.JSONEncoder(ensure_ascii=False)
_UUID = re.compile(UUID.removesuffix("$") + r"\Z", re.ASCII)
_UTC_MS = re.compile(r"\d{4}-\d{2}-\d{2}T\d{2}:\d{2}:\d{2}\.\d{3}Z\Z", re.ASCII)


@dataclass(frozen=True, slots=True)
class Event:
    """An event, every value as on the wire."""

    id: str
    job: str
    kind: str
    body: Mapping[str, Any]
    at: str
    clock: str
    device: str
    author: str
    raw_at: str | None = None

    def as_json(self) -> dict[str, Any]:
        """The wire form."""
        return {name: getattr(self, name) for name in FIELDS}

    @classmethod
    def trusted(cls, data: Mapping[str, Any]) -> "Event":
        """An event already checked once (a stored one), read back without checking again."""
        return cls(**{name: data.get(name) for name in FIELDS})  # type: ignore[arg-type]


class EventRejected(Exception):  # noqa: N818 (it reads as what happened to the event)
    """Why an event was not taken: a stable code, where, in plain words, and what to do."""

    def __init__(self, code: str, path: str, message: str, do: str) -> None:
        super().__init__(f"{path}: {message}" if path else message)
        self.code, self.path, self.message, self.do = code, path, message, do

    def as_json(self) -> dict[str, str]:
        """`{"code", "path", "message", "do"}`"""
        return {"code": self.code, "path": self.path, "message": self.message, "do": self.do}


def read_event(data: object, *, role: str, now: datetime) -> Event:
    """Check one event from JSON.

    Not checked here, because it needs the store: that device and author are the sender's, and that a
    retract names an event its author may take back. Raises EventRejected.
    """
    if not isinstance(data, Mapping):
        raise EventRejected("not_an_event", "", "An event must be an object.", "Update the app.")
    _check_names(data)
    for name in ("id", "job", "device", "author"):
        _check_id(name, data[name])
    _check_clock(data["clock"], data["device"])
    _check_time("at", data["at"], now)
    if data.get("raw_at") is not None:
        _check_form("raw_at", data["raw_at"])
    kind = _check_kind(data["kind"], role)
    _check_body(kind, data["body"])
    return Event.trusted(data)


def _check_names(data: Mapping[Any, Any]) -> None:
    for name in FIELDS[:-1]:
        if name not in data:
            raise EventRejected("field_missing", name, f"The event has no {name}.", "Update the app.")
    for name in data:
        if name not in FIELDS:
            raise EventRejected("field_unknown", str(name), "An event has no such field.", "Update the app.")


def _check_id(name: str, value: object) -> None:
    good = isinstance(value, str) and bool(_UUID.match(value))
    if good and name == "id" and str(value)[14] != "7":
        good = False
    if not good:
        sort = "UUIDv7" if name == "id" else "UUID"
        message = f"{name} must be a {sort} in lower case with hyphens."
        raise EventRejected("id_invalid", name, message, "Update the app.")


def _check_clock(value: object, device: str) -> None:
    try:
        reading = clocks.read(value if isinstance(value, str) else "")
    except ValueError as problem:
        raise EventRejected("clock_invalid", "clock", str(problem), "Update the app.") from None
    if reading.device != device:
        message = "The clock names another device than the event."
        raise EventRejected("clock_invalid", "clock", message, "Update the app.")


def _check_form(name: str, value: object) -> datetime:
    try:
        if not isinstance(value, str) or not _UTC_MS.match(value):
            raise ValueError
        return read_instant(value)
    except ValueError:
        message = f"{name} must be UTC with milliseconds, like 2026-07-14T13:05:00.000Z."
        raise EventRejected("time_invalid", name, message, "Update the app.") from None


def _check_time(name: str, value: object, now: datetime) -> None:
    moment = _check_form(name, value)
    if not EARLIEST <= moment <= now + MAX_AHEAD:
        message = f"{value} can't be when this happened."
        do = "Set the phone's date and time, then record it again."
        raise EventRejected("time_unlikely", name, message, do)


def _check_kind(name: object, role: str) -> Kind:
    kind = KINDS.get(name) if isinstance(name, str) else None
    if kind is None:
        message = f"The server knows no kind {str(name)[:60]!r}."
        raise EventRejected("kind_unknown", "kind", message, "Update the server, then send again.")
    if role not in kind.roles:
        message = f"{kind.name} is for {' or '.join(kind.roles)}; this device is {role}."
        raise EventRejected("role_not_allowed", "kind", message, "Ask the foreman to record it.")
    return kind


@cache
def _schema(kind: str) -> Body:
    return KINDS[kind].schema()


def _check_body(kind: Kind, body: object) -> None:
    if not isinstance(body, Mapping):
        raise EventRejected("body_invalid", "body", "The body must be an object.", "Update the app.")
    problems = _schema(kind.name).validate(body)
    if problems:
        path, message = first_problem(problems, "body")
        raise EventRejected("body_invalid", path, message, "Correct it and send it again, or discard it.")
    if len(_JSON.encode(body).encode()) > MAX_BODY_BYTES:
        message = f"The body is over {MAX_BODY_BYTES // 1024} kB."
        raise EventRejected("too_large", "body", message, "Use fewer corners or shorter notes.")


def first_problem(problems: object, path: str) -> tuple[str, str]:
    """The first leaf of marshmallow's nested messages: its path and words."""
    while isinstance(problems, dict):
        name, problems = next(iter(problems.items()))
        path = f"{path}.{name}" if name != "_schema" else path
    return path, str(problems[0]) if isinstance(problems, list) else str(problems)
