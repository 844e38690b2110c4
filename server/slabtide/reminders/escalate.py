"""A saw reminder that nobody takes in hand goes to the next in line: from the foreman to the office.

How long it waits is a setting from practice (common practice, no source).
"""

from collections.abc import Iterator
from datetime import datetime, timedelta

from sqlalchemy import Select, func, select
from sqlalchemy.orm import Session

from slabtide.reminders.outbox import add, due_key, reachable
from slabtide.reminders.steps import note
from slabtide.reminders.truth import is_ahead, overtaken, until_of
from slabtide.store.tables import Delivery, Reminder

WAITS = {"open": timedelta(minutes=45), "last_call": timedelta(minutes=15)}
NEXT_ROLE = "office"
_MOST_PER_TICK = 200


def escalate(session: Session, now: datetime) -> int:
    """Make deliveries to the office for saw reminders sent and not acknowledged in time, once for each.

    Returns the number of reminders passed on.
    """
    passed = 0
    for row in _waiting(session, now):
        for subscription, role in session.execute(reachable(row.company_id)):
            if role == NEXT_ROLE:
                add(session, row, subscription, now)
        row.escalation, row.updated_at = 1, now
        note(session, row, "escalated", now, to=NEXT_ROLE, why="unanswered")
        passed += 1
    return passed


def anything_unanswered(session: Session, now: datetime) -> bool:
    """Whether `escalate` would look at anything."""
    return session.scalar(_unanswered(now).limit(1)) is not None


def _unanswered(now: datetime) -> Select[Reminder]:
    return select(Reminder).where(
        Reminder.state == "sent",
        Reminder.what == "saw",
        Reminder.stage.in_(WAITS),
        Reminder.escalation == 0,
        Reminder.due <= now - min(WAITS.values()),
        Reminder.expires > now,
    )


def _waiting(session: Session, now: datetime) -> Iterator[Reminder]:
    for row in session.scalars(_unanswered(now).limit(_MOST_PER_TICK)).all():
        sent_at = _first_sent(session, row)
        waited = sent_at is not None and sent_at <= now - WAITS[row.stage]
        if waited and until_of(row) > now and is_ahead(session, row) and not overtaken(session, row):
            yield row


def _first_sent(session: Session, row: Reminder) -> datetime | None:
    return session.scalar(
        select(func.min(Delivery.sent_at)).where(
            Delivery.company_id == row.company_id,
            Delivery.reminder_id == row.id,
            Delivery.due_key == due_key(row),
        )
    )
