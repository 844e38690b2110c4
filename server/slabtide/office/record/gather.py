"""From the store to what a record rests on: log, people, windows, weather, photos."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from pathlib import Path

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.config import current_config
from slabtide.errors import AppError, NotFoundError
from slabtide.log.fold import fold
from slabtide.log.instants import read_instant
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.learned.marks import told_by_marks
from slabtide.office.learned.standing import marks_kept
from slabtide.office.pour import planned_pour
from slabtide.office.record.contract import ReminderLine, Source
from slabtide.office.stored_weather import stored_hours
from slabtide.store.parts import in_parts
from slabtide.store.tables import Company, Event, JobOutlook, Person, Photo, Reminder
from slabtide.weather.assemble import Assembled, weather_for
from slabtide.weather.contract import Problem

MOST_ENTRIES = 50_000
AROUND = timedelta(hours=2)
AFTER = timedelta(hours=30)


class JobUnknownError(NotFoundError):
    """The company has no such job."""

    code = "job_unknown"

    def __init__(self) -> None:
        super().__init__("There is no such job here.", "Check the address, or sync the phone it is on first.")


def events_of(session: Session, company_id: str, job: str) -> list[Event]:
    """Every entry of a job, in the order of the server's log. Raises `JobUnknownError`, `AppError`."""
    query = select(Event).where(Event.company_id == company_id, Event.job == job).order_by(Event.seq)
    found = list(session.scalars(query.limit(MOST_ENTRIES + 1)))
    if not found:
        raise JobUnknownError
    if len(found) > MOST_ENTRIES:
        raise AppError(
            f"This job has over {MOST_ENTRIES} entries: too many for one document.",
            "Use the company's export.",
            code="too_large",
            status=413,
        )
    return found


def gather(session: Session, company_id: str, job: str) -> Source:
    """Everything a record of `job` needs. Raises `JobUnknownError` for one of another company too."""
    events = events_of(session, company_id, job)
    view = view_job(fold(events, job))
    outlook = session.get(JobOutlook, (company_id, job))
    weather = _weather(session, company_id, view)
    marks = marks_kept(session, company_id, view.id)
    return Source(
        company=session.get_one(Company, company_id).name,
        view=view,
        people=names_of(session, company_id),
        last_at=max(read_instant(event.at) for event in events),
        entries=len(events),
        timeline=outlook.timeline if outlook else None,
        planned=outlook.planned if outlook else False,
        at_placing=told_by_marks(marks, "at_placing"),
        afterwards=frozenset(mark.load for mark in marks if mark.afterwards),
        weather_label=weather.label if weather else "",
        hours=weather.hours if weather else (),
        photos=_files(session, company_id, photos_of(view)),
        reminders=_reminders(session, company_id, job),
    )


def names_of(session: Session, company_id: str) -> dict[str, str]:
    """The company's people by id."""
    people = session.scalars(select(Person).where(Person.company_id == company_id))
    return {person.id: person.name for person in people}


def photos_of(view: JobView) -> Sequence[str]:
    """Each photo once, in order of time: those taken on their own and those of pins."""
    taken = [(photo.at, photo.photo) for photo in view.photos]
    pinned = [(pin.at, pin.photo) for pin in view.pins if pin.photo]
    return list(dict.fromkeys(photo for _, photo in sorted(taken + pinned)))


def _files(session: Session, company_id: str, photos: Sequence[str]) -> dict[str, Path]:
    """Where the photos lie that have reached the server."""
    folder = current_config().photo_dir
    found: dict[str, Path] = {}
    for some in in_parts(photos):
        query = select(Photo.sha256, Photo.path).where(Photo.company_id == company_id, Photo.sha256.in_(some))
        found |= {row.sha256: folder / row.path for row in session.execute(query)}
    return {photo: file for photo, file in found.items() if file.is_file()}


def _weather(session: Session, company_id: str, view: JobView) -> Assembled | None:
    """The hours from before the first batch to a day after the last load; None before anything is placed."""
    pour = planned_pour(view)
    if isinstance(pour, Problem) or pour.planned:
        return None
    start, end = pour.begins - AROUND, _last_work(view, pour.ends) + AFTER
    found = weather_for(view, stored_hours(session, company_id, view.id, start - AROUND, end), start, end)
    return found if found.hours else None


def _last_work(view: JobView, ends: datetime) -> datetime:
    marks = [step.end for bay in view.bays for step in bay.steps.values() if step.end is not None]
    latest = max((read_instant(mark.at) for mark in marks), default=ends)
    return min(max(latest, ends), ends + timedelta(hours=24))


def _reminders(session: Session, company_id: str, job: str) -> dict[str, ReminderLine]:
    rows = session.execute(
        select(Reminder.id, Reminder.what, Reminder.stage).where(
            Reminder.company_id == company_id, Reminder.job == job
        )
    )
    return {row.id: ReminderLine(row.what, row.stage) for row in rows}
