"""A reminder that nobody takes in hand goes up the line: from the lead to the foremen, then the office.

How long each waits is a setting from practice (common practice, no source). A heads-up and a missed wait for
nobody; later work is passed on from its last call; a surface check not further than to the foremen, for
nobody at a desk can press a slab.
"""

from collections.abc import Iterator
from datetime import datetime, timedelta

from sqlalchemy import Select, func, select, tuple_
from sqlalchemy.orm import Session

from slabtide.reminders.outbox import add, due_key, reachable
from slabtide.reminders.steps import note
from slabtide.reminders.truth import is_ahead, overtaken, until_of
from slabtide.store.tables import Delivery, PushSubscription, Reminder

_MIN = timedelta(minutes=1)
WAITS = {
    ("check", "open"): 20 * _MIN,
    ("texture", "open"): 20 * _MIN,
    ("texture", "last_call"): 10 * _MIN,
    ("saw", "open"): 45 * _MIN,
    ("saw", "last_call"): 15 * _MIN,
    ("wash", "last_call"): 60 * _MIN,
    ("colour", "last_call"): 60 * _MIN,
    ("seal", "last_call"): 60 * _MIN,
}
FIRST_ROLE, NEXT_ROLE = "foreman", "office"
NOT_FOR_THE_OFFICE = ("check",)
_MOST_PER_TICK = 200


def escalate(session: Session, now: datetime) -> int:
    """Pass on reminders sent and not acknowledged in time: to the foremen not told yet, then to the office,
    each once.

    Returns the number of reminders passed on.
    """
    passed = 0
    for row, to, subscriptions in _to_pass_on(session, now):
        for subscription in subscriptions:
            add(session, row, subscription, now)
        row.escalation, row.updated_at = int(to == NEXT_ROLE), now
        note(session, row, "escalated", now, to=to, why="unanswered")
        passed += 1
    return passed


def anything_unanswered(session: Session, now: datetime) -> bool:
    """Whether `escalate` would pass anything on. Changes nothing."""
    return next(_to_pass_on(session, now), None) is not None


def _to_pass_on(session: Session, now: datetime) -> Iterator[tuple[Reminder, str, list[PushSubscription]]]:
    """What to pass on, to which role, and on which of their phones."""
    for row in _waiting(session, now):
        phones = session.execute(reachable(row.company_id)).all()
        made = _made(session, row)
        untold = [one for one, role, _ in phones if role == FIRST_ROLE and one.id not in made]
        foremen = [made[one.id] for one, role, _ in phones if role == FIRST_ROLE and one.id in made]
        if not untold and foremen and max(foremen) > now - _wait(row):
            continue  # they were told after the lead was, and have not had their time yet
        if not untold and row.what in NOT_FOR_THE_OFFICE:
            continue
        to = FIRST_ROLE if untold else NEXT_ROLE
        yield row, to, [one for one, role, _ in phones if role == to]


def _made(session: Session, row: Reminder) -> dict[str, datetime]:
    """When it was put on its way, by subscription."""
    query = select(Delivery.subscription_id, Delivery.created_at).where(
        Delivery.company_id == row.company_id,
        Delivery.reminder_id == row.id,
        Delivery.due_key == due_key(row),
    )
    return {row.subscription_id: row.created_at for row in session.execute(query)}


def _unanswered(now: datetime) -> Select[Reminder]:
    return select(Reminder).where(
        Reminder.state == "sent",
        tuple_(Reminder.what, Reminder.stage).in_(list(WAITS)),
        Reminder.escalation == 0,
        Reminder.due <= now - min(WAITS.values()),
        Reminder.expires > now,
    )


def _waiting(session: Session, now: datetime) -> Iterator[Reminder]:
    for row in session.scalars(_unanswered(now).limit(_MOST_PER_TICK)).all():
        sent_at = _first_sent(session, row)
        waited = sent_at is not None and sent_at <= now - _wait(row)
        if waited and until_of(row) > now and is_ahead(session, row) and not overtaken(session, row):
            yield row


def _wait(row: Reminder) -> timedelta:
    return WAITS[row.what, row.stage]


def _first_sent(session: Session, row: Reminder) -> datetime | None:
    return session.scalar(
        select(func.min(Delivery.sent_at)).where(
            Delivery.company_id == row.company_id,
            Delivery.reminder_id == row.id,
            Delivery.due_key == due_key(row),
        )
    )
