"""When a push is tried again, and what a push service that answers again sets free."""

from datetime import datetime, timedelta
from urllib.parse import urlsplit

from sqlalchemy import ColumnElement, and_, exists, or_, select
from sqlalchemy.orm import Session

from slabtide.reminders.push import Outcome
from slabtide.store.tables import Delivery, PushSubscription

FIRST_RETRY = timedelta(seconds=15)
LONGEST_RETRY = timedelta(minutes=10)
LONGEST_UNSEEN = timedelta(seconds=28)  # a service that is back is known to be back within half a minute


def next_try(attempt: int, outcome: Outcome, now: datetime) -> datetime:
    """When to try again: at the service's own Retry-After, else after 15 s, doubling to 10 min."""
    if outcome.retry_after_s is not None:
        return now + max(FIRST_RETRY, timedelta(seconds=outcome.retry_after_s))
    doubled: timedelta = FIRST_RETRY * int(2 ** min(attempt - 1, 10))
    return now + min(doubled, LONGEST_RETRY)


def next_try_at(session: Session, endpoint: str, attempt: int, outcome: Outcome, now: datetime) -> datetime:
    """The same; but of all that wait for a service that is down, one asks every half minute, so that its
    return is seen soon. A service that asks for less (429) is asked less."""
    again = next_try(attempt, outcome, now)
    if outcome.status == 429:
        return again
    asks = select(Delivery.reminder_id).where(_waits(endpoint), Delivery.next_try_at <= now + LONGEST_UNSEEN)
    if session.scalar(asks.limit(1)) is not None:
        return again
    return max(min(again, now + LONGEST_UNSEEN), now + timedelta(seconds=outcome.retry_after_s or 0.0))


def set_free(session: Session, endpoint: str, now: datetime) -> int:
    """The service at `endpoint` took a push: those it failed to take before go now. How many they are.

    Those it asked to come back later (429) keep to the time it named.
    """
    was_down = or_(Delivery.status.is_(None), Delivery.status >= 500)
    waiting = select(Delivery).where(_waits(endpoint), was_down, Delivery.next_try_at > now)
    # what another worker has in hand it frees itself; waiting for it here could wait for ever
    rows = session.scalars(waiting.with_for_update(skip_locked=True)).all()
    for row in rows:
        row.next_try_at = now
    return len(rows)


def _waits(endpoint: str) -> ColumnElement[bool]:
    """A delivery to the same service that was tried before and waits."""
    parts = urlsplit(endpoint)
    same_service = exists().where(
        PushSubscription.company_id == Delivery.company_id,
        PushSubscription.id == Delivery.subscription_id,
        PushSubscription.endpoint.startswith(f"{parts.scheme}://{parts.netloc}/", autoescape=True),
    )
    return and_(Delivery.state == "pending", Delivery.attempts > 0, same_service)
