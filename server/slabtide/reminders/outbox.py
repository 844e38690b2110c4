"""The outbox: which reminder is on its way to which subscription, claimed row by row, at least once.

States of a delivery and their legal moves:
  pending    waits for `next_try_at`           -> claimed
  claimed    a worker has it until the lease   -> sent, failed, pending (try again), claimed (lease over)
  sent       the push service took it
  failed     it never will be                  (`error` says why)
  cancelled  the reminder moved or was settled -> pending (it moved back)
A worker that dies between claim and mark leaves its lease to run out; the next one sends again under the same
Topic, so that the phone shows one notification.
"""

from __future__ import annotations

from collections.abc import Iterable
from dataclasses import dataclass
from datetime import datetime, timedelta

from sqlalchemy import ColumnElement, Select, and_, or_, select, update
from sqlalchemy.orm import Session

from slabtide.office import board_rows
from slabtide.reminders.contract import iso
from slabtide.reminders.crew import Phone, told_of
from slabtide.reminders.push import Outcome, PushTarget
from slabtide.reminders.retry import next_try_at, set_free
from slabtide.reminders.steps import Step, note
from slabtide.reminders.truth import is_ahead, overtaken, until_of
from slabtide.store.tables import Delivery, Device, Person, PushSubscription, Reminder
from slabtide.store.upsert import insert_into

LEASE = timedelta(seconds=25)  # what a killed worker held goes again within half a minute
NEXT_IN_LINE = ("foreman", "office", "crew")
_LIVE = ("due", "sent")
MOST_PER_TICK = 500
_LOOKED_AT = 50  # where more than these wait, they are looked at under the lock


@dataclass(frozen=True, slots=True)
class Claim:
    """A delivery in a worker's hands."""

    company_id: str
    reminder_id: str
    subscription_id: str
    due_key: str
    worker: str
    attempt: int
    target: PushTarget
    language: str
    reminder: Reminder
    until: datetime


def due_key(row: Reminder) -> str:
    """What tells one sending of a reminder from the next: when it was due, and until when it was put off."""
    put_off = f"/{int(row.snoozed_until.timestamp())}" if row.snoozed_until else ""
    return iso(row.due) + put_off


def fill(session: Session, now: datetime) -> int:
    """Make a delivery for every device that a due reminder should reach; repeated calls add nothing.

    Where nobody of the audience can be reached, the next in line is told: foreman, office, crew. One that was
    put off waits for its time, and is then told once more.
    Returns the number of reminders looked at.
    """
    rows = [
        row
        for row in session.scalars(_to_tell(now).limit(MOST_PER_TICK))
        if until_of(row) > now and not _told_enough(session, row)
    ]
    for row in rows:
        told, instead = _subscriptions(session, row, now)
        if told and instead is not None:
            if row.escalation == 0:
                note(session, row, "escalated", now, to=instead, why="unreachable")
            row.escalation = 1
        for subscription in told:
            add(session, row, subscription, now)
    return len(rows)


def anything_to_put_on_its_way(session: Session, now: datetime) -> bool:
    """Whether `fill` would make any delivery. Changes nothing."""
    rows = session.scalars(_to_tell(now).limit(_LOOKED_AT)).all()
    return len(rows) == _LOOKED_AT or any(
        until_of(row) > now and not _told_enough(session, row) and _is_missing(session, row, now)
        for row in rows
    )


def _is_missing(session: Session, row: Reminder, now: datetime) -> bool:
    """Whether a phone that should hear of it has no delivery yet, or one that was called back."""
    made = session.scalars(
        select(Delivery.subscription_id).where(
            Delivery.company_id == row.company_id,
            Delivery.reminder_id == row.id,
            Delivery.due_key == due_key(row),
            Delivery.state != "cancelled",
        )
    )
    told, _ = _subscriptions(session, row, now)
    return not {subscription.id for subscription in told} <= set(made)


def _to_tell(now: datetime) -> Select[Reminder]:
    waits_no_more = or_(Reminder.snoozed_until.is_(None), Reminder.snoozed_until <= now)
    again = and_(Reminder.state == "sent", Reminder.snoozed_until <= now)
    return (
        select(Reminder)
        .where(or_(and_(Reminder.state.in_(("due", "failed")), waits_no_more), again), Reminder.expires > now)
        .order_by(Reminder.state, Reminder.due.desc())  # what failed before must not crowd out what is due
    )


def _told_enough(session: Session, row: Reminder) -> bool:
    """Whether one that was told and put off needs no more telling: work done, or a later stage told."""
    return row.state == "sent" and (overtaken(session, row) or not is_ahead(session, row))


def anything_ready(session: Session, now: datetime) -> bool:
    """Whether `claim` would find anything to take or to settle. Takes no lock."""
    return session.scalar(select(Delivery.reminder_id).where(_is_ready(now)).limit(1)) is not None


def claim(session: Session, now: datetime, worker: str, limit: int) -> list[Claim]:
    """Take up to `limit` deliveries whose time has come, for `worker`, until the lease runs out.

    Needs a write transaction: on SQLite it holds the one write lock; on PostgreSQL rows another worker
    holds are passed over. What is no longer true is settled here, not sent.
    """
    claims: list[Claim] = []
    for delivery, reminder, subscription, device, person in session.execute(_ready(session, now, limit)):
        until = until_of(reminder)
        if reminder.state not in (*_LIVE, "failed") or delivery.due_key != due_key(reminder):
            _settle(delivery, "cancelled", "the reminder moved or was settled")
        elif not is_ahead(session, reminder):
            _settle(delivery, "cancelled", "the work is done")
        elif subscription.retired_at is not None or device.revoked_at is not None:
            _settle(delivery, "failed", "the device no longer takes notifications")
            _tell(session, reminder, delivery, now)
        elif until <= now:
            _settle(delivery, "failed", "its time ran out before it could be sent")
            _tell(session, reminder, delivery, now)
        else:
            claims.append(_take(delivery, reminder, subscription, person, worker, now, until))
    session.flush()
    return claims


def mark(session: Session, taken: Claim, outcome: Outcome, now: datetime) -> None:
    """Write down what came of a claim. A claim whose lease another worker took over is left to that one,
    unless it was sent."""
    delivery = session.get(Delivery, _key(taken), with_for_update=True)
    if delivery is None or (delivery.claimed_by != taken.worker and outcome.kind != "sent"):
        return
    delivery.status = outcome.status
    if outcome.kind == "sent":
        delivery.sent_at = now
        _settle(delivery, "sent", None)
        if taken.attempt > 1:
            set_free(session, taken.target.endpoint, now)
    elif outcome.kind == "later":
        _try_again(session, delivery, taken, outcome, now)
    else:
        _settle(delivery, "failed", outcome.error)
        if outcome.kind == "gone":
            _retire(session, taken, outcome, now)
    _tell(session, taken.reminder, delivery, now)
    session.flush()
    _follow(session, taken, now)


def _is_ready(now: datetime) -> ColumnElement[bool]:
    return or_(
        and_(Delivery.state == "pending", Delivery.next_try_at <= now),
        and_(Delivery.state == "claimed", Delivery.lease_until <= now),
    )


def _ready(
    session: Session, now: datetime, limit: int
) -> Select[Delivery, Reminder, PushSubscription, Device, Person]:
    query = (
        select(Delivery, Reminder, PushSubscription, Device, Person)
        .join(Reminder, and_(Reminder.company_id == Delivery.company_id, Reminder.id == Delivery.reminder_id))
        .join(
            PushSubscription,
            and_(
                PushSubscription.company_id == Delivery.company_id,
                PushSubscription.id == Delivery.subscription_id,
            ),
        )
        .join(Device, and_(Device.company_id == Delivery.company_id, Device.id == PushSubscription.device))
        .join(Person, and_(Person.company_id == Device.company_id, Person.id == Device.person_id))
        .where(_is_ready(now))
        .order_by(Delivery.next_try_at)
        .limit(limit)
    )
    if session.get_bind().dialect.name == "postgresql":
        query = query.with_for_update(skip_locked=True, of=Delivery)
    return query


def _take(
    delivery: Delivery,
    reminder: Reminder,
    subscription: PushSubscription,
    person: Person,
    worker: str,
    now: datetime,
    until: datetime,
) -> Claim:
    delivery.state, delivery.claimed_by = "claimed", worker
    delivery.lease_until, delivery.attempts = now + LEASE, delivery.attempts + 1
    return Claim(
        delivery.company_id,
        delivery.reminder_id,
        delivery.subscription_id,
        delivery.due_key,
        worker,
        delivery.attempts,
        PushTarget(subscription.endpoint, subscription.p256dh, subscription.auth),
        person.language,
        reminder,
        until,
    )


def _subscriptions(
    session: Session, row: Reminder, now: datetime
) -> tuple[list[PushSubscription], str | None]:
    """Live subscriptions of those it is for; else those of the first role in line that has any, and that
    role."""
    found: list[Phone] = [
        (one, role, person) for one, role, person in session.execute(reachable(row.company_id))
    ]
    told = told_of(session, row, found, now)
    if told:
        return told, None
    for role in NEXT_IN_LINE:
        told = [subscription for subscription, of_role, _ in found if of_role == role]
        if told:
            break
    return told, role


def reachable(company_id: str) -> Select[PushSubscription, str, str]:
    """Live subscriptions of a company with the role and the id of whoever holds the device."""
    return (
        select(PushSubscription, Person.role, Person.id)
        .join(
            Device,
            and_(Device.company_id == PushSubscription.company_id, Device.id == PushSubscription.device),
        )
        .join(Person, and_(Person.company_id == Device.company_id, Person.id == Device.person_id))
        .where(
            PushSubscription.company_id == company_id,
            PushSubscription.retired_at.is_(None),
            Device.revoked_at.is_(None),
        )
    )


def add(session: Session, row: Reminder, subscription: PushSubscription, now: datetime) -> None:
    """Put one reminder on its way to one subscription; what is there already stays as it is, unless it was
    cancelled."""
    new = insert_into(session, Delivery).values(
        company_id=row.company_id,
        reminder_id=row.id,
        subscription_id=subscription.id,
        due_key=due_key(row),
        state="pending",
        attempts=0,
        next_try_at=now,
        created_at=now,
    )
    session.execute(
        new.on_conflict_do_update(
            index_elements=[
                Delivery.company_id,
                Delivery.reminder_id,
                Delivery.subscription_id,
                Delivery.due_key,
            ],
            set_={"state": "pending", "next_try_at": now},
            where=Delivery.state == "cancelled",
        )
    )


def _settle(delivery: Delivery, state: str, error: str | None) -> None:
    delivery.state, delivery.error = state, error[:400] if error else None
    delivery.lease_until = delivery.next_try_at = None


def _tell(session: Session, row: Reminder, delivery: Delivery, now: datetime) -> None:
    """Note in the reminder's life what came of one attempt to deliver it."""
    on_its_way = {"subscription": delivery.subscription_id, "status": delivery.status}
    if delivery.state == "sent":
        note(session, row, "accepted", now, **on_its_way)
    else:
        step: Step = "tried" if delivery.state == "pending" else "refused"
        note(session, row, step, now, **on_its_way, why=delivery.error)


def _try_again(session: Session, delivery: Delivery, taken: Claim, outcome: Outcome, now: datetime) -> None:
    again = next_try_at(session, taken.target.endpoint, taken.attempt, outcome, now)
    if again >= taken.until:
        _settle(delivery, "failed", f"{outcome.error}; its time runs out before another try")
        return
    _settle(delivery, "pending", outcome.error)
    delivery.next_try_at = again


def _retire(session: Session, taken: Claim, outcome: Outcome, now: datetime) -> None:
    session.execute(
        update(PushSubscription)
        .where(PushSubscription.company_id == taken.company_id, PushSubscription.id == taken.subscription_id)
        .values(retired_at=now, why=f"the push service answered {outcome.status}")
    )


def _follow(session: Session, taken: Claim, now: datetime) -> None:
    """The reminder follows its deliveries: sent once one is, failed once all are."""
    row = session.get(Reminder, (taken.company_id, taken.reminder_id), with_for_update=True)
    if row is None or due_key(row) != taken.due_key or row.state not in ("due", "failed"):
        return
    states = set(_states(session, taken))
    if "sent" in states:
        row.state, row.sent_due, row.updated_at = "sent", row.due, now
        note(session, row, "sent", now)
    elif not states & {"pending", "claimed"} and row.state != "failed":
        row.state, row.updated_at = "failed", now
        note(session, row, "failed", now)
    else:
        return
    board_rows.touch(session, row.company_id, row.job, now)


def _states(session: Session, taken: Claim) -> Iterable[str]:
    query = select(Delivery.state).where(
        Delivery.company_id == taken.company_id,
        Delivery.reminder_id == taken.reminder_id,
        Delivery.due_key == taken.due_key,
    )
    return session.scalars(query)


def _key(taken: Claim) -> tuple[str, str, str, str]:
    return taken.company_id, taken.reminder_id, taken.subscription_id, taken.due_key
