"""Who of a company is told of a job's reminders: the people of that job, never every phone there is.

A job's crew is the lead named for it and whoever of crew and foremen logged on it in its working day: since
midnight by the job's clock, or in the last 18 hours where a night's work reaches over midnight.
  saw, heads-up and open   the lead; where none is named or reachable, the foremen
  saw, last call           the crew of the job, and the foremen; all crew where nobody of the job is known
  wash, colour, seal       the foremen, and the lead: nobody passes these on
  missed                   the foremen; of the saw the office too
Where that reaches nobody, the outbox tells the first role in line that has a phone that listens.
"""

from collections.abc import Sequence
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.log.model import JobView
from slabtide.store.tables import Event, JobMark, PushSubscription, Reminder

NIGHT_WORK = timedelta(hours=18)  # from the morning's first truck to a saw after midnight (EST)
ON_THE_SLAB = ("crew", "foreman")
Phone = tuple[PushSubscription, str, str]  # where it listens, its holder's role, its holder


def lead_of(view: JobView) -> str | None:
    """The person who leads the crew of a job, where one is named."""
    return view.crew.lead if view.crew else None


def told_of(
    session: Session, row: Reminder, phones: Sequence[Phone], now: datetime
) -> list[PushSubscription]:
    """Which of a company's listening phones a reminder goes to first."""
    notebook = _notebook(session, row)
    lead = notebook.get("lead")
    foremen_and_such = [phone for phone in phones if phone[1] in (row.audience or ()) and phone[1] != "crew"]
    leads = [phone for phone in phones if phone[2] == lead]
    if row.stage == "missed":
        return _where(foremen_and_such)
    if "crew" in (row.audience or ()):
        return _where([*foremen_and_such, *_crew(session, row, phones, lead, notebook, now)])
    if row.what == "saw" and leads:
        return _where(leads)
    return _where([*foremen_and_such, *leads])


def _crew(
    session: Session,
    row: Reminder,
    phones: Sequence[Phone],
    lead: str | None,
    notebook: dict[str, Any],
    now: datetime,
) -> list[Phone]:
    on_it = {lead} | _logged(session, row, notebook.get("time_zone", "UTC"), now)
    known = any(person == lead or role in ON_THE_SLAB for _, role, person in phones if person in on_it)
    if not known and lead is None:
        return [phone for phone in phones if phone[1] == "crew"]
    return [phone for phone in phones if phone[2] == lead or (phone[2] in on_it and phone[1] in ON_THE_SLAB)]


def _logged(session: Session, row: Reminder, zone: str, now: datetime) -> set[str]:
    """Who wrote to the job in its working day."""
    midnight = now.astimezone(ZoneInfo(zone)).replace(hour=0, minute=0, second=0, microsecond=0)
    since = min(midnight.astimezone(UTC), now - NIGHT_WORK)
    query = select(Event.author).where(
        Event.company_id == row.company_id,
        Event.job == row.job,
        Event.at.between(write_instant(since), write_instant(now)),
    )
    return set(session.scalars(query.distinct()))


def _notebook(session: Session, row: Reminder) -> dict[str, Any]:
    mark = session.get(JobMark, (row.company_id, row.job))
    return dict(mark.state) if mark is not None and mark.state else {}


def _where(phones: Sequence[Phone]) -> list[PushSubscription]:
    return list({phone[0].id: phone[0] for phone in phones}.values())
