"""What phones are told: the outlook of their jobs, one job's, reminders; and what tells two apart."""

import hashlib
import json
from collections.abc import Iterator, Sequence
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.office.assumed import told_as_kept
from slabtide.office.learned.standing import mixes_told, priors_told
from slabtide.office.near import Carried
from slabtide.people import Caller
from slabtide.store.learned_tables import JobPrior
from slabtide.store.meta import epoch_in
from slabtide.store.parts import in_parts
from slabtide.store.tables import JobOutlook, Person, Reminder

VERSION = 1
REMINDERS_KEPT = timedelta(days=7)

_TOLD = (
    Reminder.id,
    Reminder.job,
    Reminder.what,
    Reminder.subject,
    Reminder.stage,
    Reminder.due,
    Reminder.opens,
    Reminder.closes,
    Reminder.expires,
    Reminder.state,
    Reminder.moved_from,
    Reminder.moved_why,
    Reminder.snoozed_until,
    Reminder.ack,
    Reminder.title,
    Reminder.words,
)


def outlook_json(session: Session, who: Caller, now: datetime, carried: Carried) -> dict[str, Any]:
    """The outlook of a company as one of its devices reads it: of the jobs it carries."""
    company_id, jobs = who.company_id, sorted(carried.jobs)
    priors = priors_told(session, company_id)
    return {
        "version": VERSION,
        "server_time": write_instant(now),
        "epoch": epoch_in(session),
        "company": {"id": company_id, "name": who.company_name},
        "me": {
            "person": who.person_id,
            "name": who.name,
            "role": who.role,
            "device": who.device_id,
            "language": who.language,
        },
        "people": _people(session, company_id),
        "carried": jobs,
        "left_out": carried.left_out,
        "jobs": {row.job: _job(row, priors.get(row.job)) for row in _outlooks(session, company_id, jobs)},
        "mixes": mixes_told(session, company_id),
        "reminders": [reminder_json(row) for row in _reminders(session, company_id, jobs, now)],
    }


def one_job_json(session: Session, company_id: str, job: str, now: datetime) -> dict[str, Any]:
    """What the outlook would tell of one job: `outlook` is None until it was looked at."""
    row = session.get(JobOutlook, (company_id, job))
    told = session.scalar(select(JobPrior.told).where(JobPrior.company_id == company_id, JobPrior.job == job))
    return {
        "version": VERSION,
        "server_time": write_instant(now),
        "job": job,
        "outlook": _job(row, told) if row else None,
        "reminders": [reminder_json(one) for one in _reminders(session, company_id, [job], now)],
    }


def outlook_mark(session: Session, who: Caller, now: datetime, carried: Carried) -> str:
    """Tells one outlook from the next without reading the timelines."""
    company_id, jobs = who.company_id, sorted(carried.jobs)
    told = [
        (row.job, row.computed_at, row.input_hash, row.problem)
        for some in in_parts(jobs)
        for row in session.execute(
            select(JobOutlook.job, JobOutlook.computed_at, JobOutlook.input_hash, JobOutlook.problem).where(
                JobOutlook.company_id == company_id, JobOutlook.job.in_(some)
            )
        )
    ]
    # What is counted by state and by the last change tells any two standings apart, and is read at once.
    reminders = session.execute(
        select(
            Reminder.state,
            func.count(),
            func.max(Reminder.updated_at),
            func.sum(Reminder.revision),
        )
        .where(Reminder.company_id == company_id, Reminder.expires > now - REMINDERS_KEPT)
        .group_by(Reminder.state)
    )
    parts = [
        [VERSION, epoch_in(session), who.device_id, who.name, who.role, who.language, who.company_name],
        _people(session, company_id),
        told,
        sorted(map(list, reminders), key=lambda row: str(row[0])),
        jobs,
        carried.left_out,
        mixes_told(session, company_id),
        sorted(priors_told(session, company_id).items()),
    ]
    return digest(parts)


def reminder_json(row: Any) -> dict[str, Any]:
    """A reminder as the phone reads it. `row`: a `Reminder`, or those of its columns."""
    ack = row.ack if row.ack and "by" in row.ack else None
    return {
        "id": row.id,
        "job": row.job,
        "what": row.what,
        "subject": row.subject,
        "stage": row.stage,
        "due": write_instant(row.due),
        "opens": row.opens,
        "closes": row.closes,
        "expires": write_instant(row.expires),
        "state": row.state,
        "moved_from": write_instant(row.moved_from) if row.moved_from else None,
        "moved_why": row.moved_why,
        "snoozed_until": write_instant(row.snoozed_until) if row.snoozed_until else None,
        "acknowledged": ack,
        "counts_from": row.ack.get("before") if row.ack else None,
        "title": row.title,
        "words": row.words,
    }


def digest(parts: Any) -> str:
    """A short text that differs where `parts` differ."""
    text = json.dumps(parts, default=str, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def _job(row: JobOutlook, prior: dict[str, Any] | None) -> dict[str, Any]:
    return {
        "prior": prior,
        "computed_at": write_instant(row.computed_at),
        "weather": row.weather,
        "problem": row.problem,
        "planned": row.planned,
        "timeline": row.timeline,
    } | told_as_kept(row.assumptions or [])


def _people(session: Session, company_id: str) -> list[dict[str, str]]:
    people = session.scalars(select(Person).where(Person.company_id == company_id).order_by(Person.name))
    return [{"id": person.id, "name": person.name, "role": person.role} for person in people]


def _outlooks(session: Session, company_id: str, jobs: Sequence[str]) -> Iterator[JobOutlook]:
    for some in in_parts(jobs):
        query = select(JobOutlook).where(JobOutlook.company_id == company_id, JobOutlook.job.in_(some))
        yield from session.scalars(query)


def _reminders(session: Session, company_id: str, jobs: Sequence[str], now: datetime) -> list[Any]:
    """Those not long over, the one due first first."""
    found = [
        row
        for some in in_parts(jobs)
        for row in session.execute(
            select(*_TOLD).where(
                Reminder.company_id == company_id,
                Reminder.job.in_(some),
                Reminder.expires > now - REMINDERS_KEPT,
            )
        )
    ]
    return sorted(found, key=lambda row: (row.due, row.id))
