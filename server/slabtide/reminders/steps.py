"""The life of a reminder, written down step by step as it happens. Nothing here is ever changed.

Steps: planned, moved, due, snoozed, tried, accepted, sent, refused, failed, escalated, acknowledged,
taken_back, cancelled, back, missed. "tried", "accepted" and "refused" are of one delivery.
"""

import uuid
from collections.abc import Mapping
from datetime import datetime, timedelta
from typing import Any, Literal

from sqlalchemy.orm import Session, object_session

from slabtide.reminders.contract import iso
from slabtide.store.tables import Reminder, ReminderStep

Step = Literal[
    "planned",
    "moved",
    "due",
    "snoozed",
    "tried",
    "accepted",
    "sent",
    "refused",
    "failed",
    "escalated",
    "acknowledged",
    "taken_back",
    "cancelled",
    "back",
    "missed",
]
ORDER: tuple[Step, ...] = (
    "planned",
    "back",
    "moved",
    "due",
    "tried",
    "accepted",
    "sent",
    "refused",
    "failed",
    "snoozed",
    "escalated",
    "taken_back",
    "acknowledged",
    "cancelled",
    "missed",
)
"""Which comes first of steps noted at one moment."""
WORTH_TELLING = timedelta(minutes=5)
_PLAIN: Mapping[str, Step] = {"due": "due", "missed": "missed", "failed": "failed", "sent": "sent"}


def note(session: Session, row: Reminder, step: Step, at: datetime, /, **detail: Any) -> None:
    """Add one step to a reminder's life. `subscription`: which delivery it is of."""
    subscription = detail.pop("subscription", None)
    session.add(
        ReminderStep(
            company_id=row.company_id,
            reminder_id=row.id,
            id=str(uuid.uuid4()),
            at=at,
            step=step,
            subscription_id=subscription,
            detail=detail or None,
        )
    )


def note_change(row: Reminder, was: str, ack_was: Mapping[str, Any] | None, gone: bool, at: datetime) -> None:
    """Note what became of a stored reminder: its time, its state, who has it.

    was, ack_was -- its state and acknowledgement before; gone -- the work is no longer to be done
    A drift of under five minutes while nobody was told is not told of.
    """
    session = object_session(row)
    if session is None:
        return
    _note_time(session, row, at)
    if row.state == was:
        return
    if row.state == "acknowledged" and row.ack:
        note(session, row, "acknowledged", at, **{name: row.ack[name] for name in ("by", "at", "via")})
    elif was == "acknowledged" and row.due == row.noted_due and ack_was and row.ack is None:
        note(session, row, "taken_back", at)
    elif row.state == "cancelled":
        note(session, row, "cancelled", at, why="settled" if gone else "overtaken")
    elif was in ("cancelled", "missed"):
        note(session, row, "back", at)
    if row.state in _PLAIN and was != "acknowledged":
        note(session, row, _PLAIN[row.state], at)


def _note_time(session: Session, row: Reminder, at: datetime) -> None:
    """A move is told of once it adds up to minutes, or at once where someone had been told."""
    before = row.noted_due
    if before is None or abs(row.due - before) >= WORTH_TELLING or (row.moved_from and row.due != before):
        if before is not None:
            note(session, row, "moved", at, **{"from": iso(before), "to": iso(row.due), "why": row.moved_why})
        row.noted_due = row.due
