"""What stands in a person's calendar: the pour of each job that concerns them, and each piece of work
with its window, with the alarms that are theirs.

The work of the pour's own hours (texture, surface checks) is left out: its times move by the minute, and
calendar programs read a feed by the hour. The pour stands for it.

Read from the stored reminders and the worker's notebook alone. Times are UTC: no clock change shifts them.
"""

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import Select, or_, select
from sqlalchemy.orm import Session

from slabtide.office.pour import BETWEEN_LOADS, PLACING
from slabtide.reminders.concerns import Reader, is_called, jobs_of
from slabtide.reminders.contract import Language
from slabtide.reminders.rules import EVENING
from slabtide.reminders.upsert import telling_of
from slabtide.reminders.words import body, clock, pour_body, pour_title, title, work
from slabtide.store.tables import Device, JobMark, Person, Reminder

KEPT = timedelta(days=7)
OPEN_ENDED = timedelta(hours=1)
BEFORE_POUR = timedelta(hours=1)
ALARMED = ("heads_up", "last_call")
IN_CALENDARS = ("saw", "wash", "colour", "seal")
Notebooks = dict[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Alarm:
    """When to call, and what to say."""

    at: datetime
    words: str


@dataclass(frozen=True, slots=True)
class Entry:
    """One event of a calendar. `uid` stays while it moves; `sequence` rises when it does."""

    uid: str
    job: str
    start: datetime
    end: datetime
    title: str
    words: str
    place: str | None
    sequence: int
    changed_at: datetime
    cancelled: bool
    alarms: tuple[Alarm, ...]
    page: str = "next-days"


def entries(session: Session, company_id: str, person: str, language: Language, now: datetime) -> list[Entry]:
    """Everything ahead that concerns a person, and what ended or was cancelled within a week, by start."""
    marks = session.scalars(select(JobMark).where(JobMark.company_id == company_id))
    every: Notebooks = {mark.job: mark.state for mark in marks if mark.state and "name" in mark.state}
    rows = list(session.scalars(_rows(company_id, now)))
    reader, notebooks = _what_concerns(session, company_id, person, every, rows)
    works: dict[tuple[str, str, str], list[Reminder]] = {}
    for row in rows:
        if row.job in notebooks:
            works.setdefault((row.job, row.what, row.subject), []).append(row)
    found = [_work(stages, notebooks[job], reader, language) for (job, _, _), stages in works.items()]
    for job, notebook in notebooks.items():
        found += _pour(company_id, job, notebook, reader, language)
    fresh = [entry for entry in found if now - _last_seen(entry) <= KEPT]
    return sorted(fresh, key=lambda entry: (entry.start, entry.uid))


def _rows(company_id: str, now: datetime) -> Select[Reminder]:
    return (
        select(Reminder)
        .where(
            Reminder.company_id == company_id,
            Reminder.what.in_(IN_CALENDARS),
            or_(Reminder.expires > now - KEPT, Reminder.updated_at > now - KEPT),
        )
        .order_by(Reminder.job, Reminder.what, Reminder.subject, Reminder.due)
    )


def _what_concerns(
    session: Session, company_id: str, person: str, every: Notebooks, rows: Sequence[Reminder]
) -> tuple[Reader, Notebooks]:
    """Who reads, and the notebooks of the jobs that concern them."""
    held = session.execute(
        select(Device.id, Device.person_id, Person.role)
        .join(Person, (Person.company_id == Device.company_id) & (Person.id == Device.person_id))
        .where(Device.company_id == company_id)
    ).all()
    role = next(one.role for one in held if one.person_id == person)  # who has no device has no calendar
    reader = Reader(person, role, frozenset(one.id for one in held if one.person_id == person))
    took: dict[str, set[str]] = {}
    for row in rows:
        if row.ack and "by" in row.ack:
            took.setdefault(row.job, set()).add(row.ack["by"])
    mine = jobs_of(reader, every, took, frozenset(one.id for one in held if one.role == "crew"))
    return reader, {job: known for job, known in every.items() if job in mine}


def _last_seen(entry: Entry) -> datetime:
    return entry.changed_at if entry.cancelled else max(entry.changed_at, entry.end)


def _work(
    stages: Sequence[Reminder], notebook: Mapping[str, Any], reader: Reader, language: Language
) -> Entry:
    opening = next((row for row in stages if row.stage == "open"), stages[0])
    telling = telling_of(opening, notebook, opening.due)
    end = opening.due + OPEN_ENDED
    kept = telling.opens.kept
    if kept is not None and kept.why is None:
        end = kept.ends
    elif telling.closes is not None:
        closes = telling.closes
        end = next((at for at in (closes.early, closes.likely, closes.late) if at > opening.due), end)
    ahead = notebook.get("ahead")
    cancelled = bool(notebook.get("closed")) or (
        ahead is not None and f"{opening.what}/{opening.subject}" not in ahead
    )
    calling = [
        row
        for row in stages
        if row.stage in ALARMED
        and row.state != "acknowledged"
        and is_called(reader, notebook, row.what, row.stage)
    ]
    alarms = [Alarm(row.due, title(telling_of(row, notebook, row.due), language)) for row in calling]
    return Entry(
        uid=_uid(opening.company_id, opening.job, f"{opening.what}/{opening.subject}"),
        job=opening.job,
        start=opening.due,
        end=end,
        title=f"{notebook['name']}: {work(telling, language)}",
        words=body(telling, language),
        place=notebook.get("place"),
        sequence=sum(row.revision for row in stages),
        changed_at=max(row.updated_at for row in stages),
        cancelled=cancelled,
        alarms=() if cancelled else tuple(alarms),
    )


def _pour(
    company_id: str, job: str, notebook: Mapping[str, Any], reader: Reader, language: Language
) -> Iterator[Entry]:
    """The pour as ordered; called off, it stays for a week as cancelled."""
    called_off = notebook.get("pour_at") is None
    ordered = (notebook.get("pour_was") or {}).get("at") if called_off else notebook["pour_at"]
    if ordered is None:
        return
    start = datetime.fromisoformat(ordered).astimezone(UTC)
    loads, zone = notebook.get("loads_ordered") or 1, ZoneInfo(notebook["time_zone"])
    placed = bool(notebook.get("loads_placed"))
    cancelled = not placed and (called_off or bool(notebook.get("closed")))
    head = pour_title(notebook["name"], language)
    at = clock(start, start, zone, language)
    eve = datetime.combine(start.astimezone(zone).date() - timedelta(days=1), EVENING, tzinfo=zone)
    quiet = cancelled or placed or not is_called(reader, notebook, "pour", "heads_up")
    alarms = () if quiet else (Alarm(eve.astimezone(UTC), head), Alarm(start - BEFORE_POUR, head))
    changed = notebook.get("pour_changed_at")
    yield Entry(
        uid=_uid(company_id, job, "pour"),
        job=job,
        start=start,
        end=start + (loads - 1) * BETWEEN_LOADS + PLACING,
        title=head,
        words=pour_body(notebook.get("volume_ordered_m3"), loads, at, language),
        place=notebook.get("place"),
        sequence=notebook.get("pour_revision", 0),
        changed_at=datetime.fromisoformat(changed) if changed else start,
        cancelled=cancelled,
        alarms=alarms,
        page="pour" if placed else "ready",
    )


def _uid(company_id: str, job: str, what: str) -> str:
    return f"{uuid.uuid5(uuid.UUID(company_id), f'{job}/{what}')}@slabtide"
