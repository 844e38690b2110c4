"""Whether a stored reminder is still true: to be done, not overtaken, not past."""

from datetime import datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.reminders.contract import STAGES, send_until
from slabtide.reminders.upsert import spec_of
from slabtide.store.tables import JobMark, Reminder

_BEFORE_IT_BEGINS = ("heads_up", "open")


def until_of(row: Reminder) -> datetime:
    """The last moment at which a push of this reminder is still true."""
    spec = spec_of(row)
    return min(send_until(spec.stage, spec.opens, spec.closes, spec.expires), spec.expires)


def is_ahead(session: Session, row: Reminder) -> bool:
    """Whether the work of a reminder is still to be done, as the job was last seen; work begun no longer
    wants its heads-up and its opening."""
    mark = session.get(JobMark, (row.company_id, row.job))
    state = (mark.state if mark is not None else None) or {}
    work, ahead = f"{row.what}/{row.subject}", state.get("ahead")
    if row.stage in _BEFORE_IT_BEGINS and work in state.get("begun", ()):
        return False
    return ahead is None or work in ahead


def overtaken(session: Session, row: Reminder) -> bool:
    """Whether a later stage of the same work has been told."""
    later = session.scalars(
        select(Reminder.stage).where(
            Reminder.company_id == row.company_id,
            Reminder.job == row.job,
            Reminder.what == row.what,
            Reminder.subject == row.subject,
            Reminder.state != "planned",
        )
    )
    reached = STAGES.index(row.stage)
    return any(STAGES.index(stage) > reached for stage in later)
