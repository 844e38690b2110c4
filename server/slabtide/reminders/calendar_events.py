"""What stands in a person's calendar: the pour of each open job, and each piece of work with its window.

Read from the stored reminders and the worker's notebook alone. Times are UTC: no clock change shifts them.
"""

import uuid
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import or_, select
from sqlalchemy.orm import Session

from slabtide.office.pour import BETWEEN_LOADS, PLACING
from slabtide.reminders.contract import Language
from slabtide.reminders.rules import EVENING
from slabtide.reminders.upsert import telling_of
from slabtide.reminders.words import body, clock, pour_body, pour_title, title, work
from slabtide.store.tables import JobMark, Reminder

KEPT = timedelta(days=7)
OPEN_ENDED = timedelta(hours=1)
BEFORE_POUR = timedelta(hours=1)
ALARMED = ("heads_up", "last_call")


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


def entries(session: Session, company_id: str, language: Language, now: datetime) -> list[Entry]:
    """Everything ahead, and what ended or was cancelled within a week, by start."""
    marks = session.scalars(select(JobMark).where(JobMark.company_id == company_id))
    notebooks = {mark.job: mark.state for mark in marks if mark.state and "name" in mark.state}
    rows = session.scalars(
        select(Reminder)
        .where(
            Reminder.company_id == company_id,
            or_(Reminder.expires > now - KEPT, Reminder.updated_at > now - KEPT),
        )
        .order_by(Reminder.job, Reminder.what, Reminder.subject, Reminder.due)
    )
    works: dict[tuple[str, str, str], list[Reminder]] = {}
    for row in rows:
        if row.job not in notebooks:
            continue
        works.setdefault((row.job, row.what, row.subject), []).append(row)
    found = [_work(stages, notebooks[job], language) for (job, _, _), stages in works.items()]
    for job, notebook in notebooks.items():
        found += _pour(company_id, job, notebook, language)
    fresh = [entry for entry in found if now - _last_seen(entry) <= KEPT]
    return sorted(fresh, key=lambda entry: (entry.start, entry.uid))


def _last_seen(entry: Entry) -> datetime:
    return entry.changed_at if entry.cancelled else max(entry.changed_at, entry.end)


def _work(stages: Sequence[Reminder], notebook: Mapping[str, Any], language: Language) -> Entry:
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
    calling = [row for row in stages if row.stage in ALARMED and row.state != "acknowledged"]
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


def _pour(company_id: str, job: str, notebook: Mapping[str, Any], language: Language) -> Iterator[Entry]:
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
    alarms = (
        () if cancelled or placed else (Alarm(eve.astimezone(UTC), head), Alarm(start - BEFORE_POUR, head))
    )
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
