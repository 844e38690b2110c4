"""Each offered event on its own: read, and held to be the sender's."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field
from datetime import datetime
from typing import Any

from slabtide.log.envelope import Event, EventRejected, read_event
from slabtide.people import Caller


@dataclass(slots=True)
class Checked:
    """The events worth storing, each id once and in request order; and the others, with the reason."""

    events: dict[str, Event] = field(default_factory=dict)
    rejected: list[dict[str, Any]] = field(default_factory=list)

    def reject(self, event_id: str, why: EventRejected) -> None:
        """Take an event out and say why."""
        self.events.pop(event_id, None)
        self.rejected.append({"id": event_id, "why": why.as_json()})


def check(raw: list[Any], caller: Caller, now: datetime, earlier_devices: Callable[[], set[str]]) -> Checked:
    """Read every event in `raw`. `earlier_devices` looks up the sender's other devices when one is named."""
    checked = Checked()
    for index, data in enumerate(raw):
        try:
            event = read_event(data, role=caller.role, now=now)
            _check_sender(event, caller, earlier_devices)
        except EventRejected as why:
            named = data.get("id") if isinstance(data, dict) else None
            where = {"id": named} if isinstance(named, str) else {"index": index}
            checked.rejected.append({**where, "why": why.as_json()})
        else:
            checked.events.setdefault(event.id, event)
    return checked


def _check_sender(event: Event, caller: Caller, earlier_devices: Callable[[], set[str]]) -> None:
    if event.author != caller.person_id:
        raise EventRejected(
            "author_mismatch",
            "author",
            "This was recorded by someone else.",
            "Join again as the person who recorded it, or export it.",
        )
    # A phone that was shut out and joined again still holds what it wrote under its earlier device id.
    if event.device != caller.device_id and event.device not in earlier_devices():
        raise EventRejected(
            "device_mismatch",
            "device",
            "This was recorded on someone else's device.",
            "Send it from that device, or export it.",
        )
