"""Who of a company is told of a job's reminders: the people of that job, never every phone there is.

A job's crew is the lead named for it and whoever of crew and foremen logged on it in its working day: since
midnight by the job's clock, or in the last 18 hours where a night's work reaches over midnight.
  check, texture, saw: heads-up, open   the lead; where none is named or reachable, the foremen
  texture, saw: last call               the crew of the job, and the foremen; all crew where nobody of the job
                                        is known
  check: last call; wash, colour, seal  the foremen, and the lead
  missed                                the foremen; of the saw the office too
Where that reaches nobody, the outbox tells the first role in line that has a phone that listens.
"""

from collections.abc import Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.log.model import JobView
from slabtide.reminders.first_told import first_told, working_day
from slabtide.store.tables import Event, JobMark, PushSubscription, Reminder

Phone = tuple[PushSubscription, str, str]  # where it listens, its holder's role, its holder


def lead_of(view: JobView) -> str | None:
    """The person who leads the crew of a job, where one is named."""
    return view.crew.lead if view.crew else None


def told_of(
    session: Session, row: Reminder, phones: Sequence[Phone], now: datetime
) -> list[PushSubscription]:
    """Which of a company's listening phones a reminder goes to first."""
    notebook = _notebook(session, row)
    people = list(dict.fromkeys((person, role) for _, role, person in phones))
    told = first_told(
        row.what,
        row.stage,
        row.audience or (),
        notebook.get("lead"),
        people,
        lambda: _logged(session, row, notebook.get("time_zone", "UTC"), now),
    )
    return list({phone.id: phone for phone, _, person in phones if person in told}.values())


def _logged(session: Session, row: Reminder, zone: str, now: datetime) -> set[str]:
    """Who wrote to the job in its working day."""
    query = select(Event.author).where(
        Event.company_id == row.company_id,
        Event.job == row.job,
        Event.at.between(write_instant(working_day(now, zone)), write_instant(now)),
    )
    return set(session.scalars(query.distinct()))


def _notebook(session: Session, row: Reminder) -> dict[str, Any]:
    mark = session.get(JobMark, (row.company_id, row.job))
    return dict(mark.state) if mark is not None and mark.state else {}
