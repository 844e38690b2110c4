"""The board: every open job, where it is, what is next, who has it in hand, who was heard from."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import UTC, datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.log.instants import read_instant, write_instant
from slabtide.store.tables import Device, JobMark, JobOutlook, Person, Reminder

_STAGES = ("heads_up", "open", "last_call", "missed")
_SHOWN = (
    "name",
    "place",
    "phase",
    "use",
    "pour_at",
    "volume_ordered_m3",
    "volume_placed_m3",
    "loads_placed",
    "loads_ordered",
    "open_pins",
    "checklists",
)
_LAST = datetime(9999, 1, 1, tzinfo=UTC)


def board_jobs(session: Session, company_id: str, now: datetime) -> list[dict[str, Any]]:
    """Every job not closed, the one with the nearest deadline first."""
    marks = session.scalars(select(JobMark).where(JobMark.company_id == company_id))
    jobs = {mark.job: mark.state for mark in marks if mark.state and not mark.state.get("closed")}
    reminders = _by_job(session, company_id)
    devices = {device.id: device for device in session.scalars(_of(Device, company_id))}
    people = {person.id: person.name for person in session.scalars(_of(Person, company_id))}
    problems = {row.job: row.problem for row in session.execute(_problems(company_id))}
    shown = [
        {"job": job}
        | {name: state.get(name) for name in _SHOWN}
        | {"next": next_reminder(reminders.get(job, ()), state.get("ahead", ()), now)}
        | {"last_ack": _last_ack(reminders.get(job, ()), people)}
        | _heard([devices[name] for name in state.get("devices", ()) if name in devices], people)
        | {"problem": problems.get(job)}
        for job, state in jobs.items()
    ]
    return sorted(shown, key=_urgency)


def next_reminder(rows: Iterable[Reminder], ahead: Sequence[str], now: datetime) -> dict[str, Any] | None:
    """The reminder of the work that closes first among the work still ahead ("what/subject"): its latest
    stage reached, else its first one to come. `slack_min`: minutes to the early close, None where none is."""
    groups: dict[str, list[Reminder]] = {}
    for row in rows:
        group = f"{row.what}/{row.subject}"
        if group in ahead and row.state != "cancelled" and row.expires > now:
            groups.setdefault(group, []).append(row)
    current = [_current(group, now) for group in groups.values()]
    if not current:
        return None
    row = min(current, key=lambda one: (_closes(one) or _LAST, one.due))
    closes = _closes(row)
    return {
        "reminder": row.id,
        "what": row.what,
        "stage": row.stage,
        "due": write_instant(row.due),
        "closes": row.closes,
        "slack_min": None if closes is None else int((closes - now).total_seconds() // 60),
        "state": row.state,
    }


def _current(rows: Sequence[Reminder], now: datetime) -> Reminder:
    ordered = sorted(rows, key=lambda row: _STAGES.index(row.stage))
    reached = [row for row in ordered if row.due <= now]
    return reached[-1] if reached else ordered[0]


def _closes(row: Reminder) -> datetime | None:
    return read_instant(row.closes["early"]) if row.closes else None


def _last_ack(rows: Iterable[Reminder], people: Mapping[str, str]) -> dict[str, Any] | None:
    acked = [row for row in rows if row.ack and "by" in row.ack]
    if not acked:
        return None
    row = max(acked, key=lambda one: one.ack["at"] if one.ack else "")
    ack = row.ack or {}
    by = people.get(ack["by"], ack["by"])
    return {"what": row.what, "stage": row.stage, "by": by, "at": ack["at"], "via": ack["via"]}


def _heard(devices: Sequence[Device], people: Mapping[str, str]) -> dict[str, Any]:
    """When the job's devices were last heard, and what they still hold unsent."""
    heard = [(device.last_heard_at, device.person_id) for device in devices if device.last_heard_at]
    last = max(heard, default=None)
    oldest = [device.oldest_unsent_at for device in devices if device.oldest_unsent_at and device.unsent > 0]
    return {
        "last_heard_at": write_instant(last[0]) if last else None,
        "last_heard_from": people.get(last[1]) if last else None,
        "unsent": sum(device.unsent for device in devices),
        "oldest_unsent_at": write_instant(min(oldest)) if oldest else None,
    }


def _urgency(job: Mapping[str, Any]) -> tuple[str, str]:
    coming = job["next"]
    when = coming["closes"]["early"] if coming and coming["closes"] else coming["due"] if coming else "9"
    return when, job["pour_at"] or "9"


def _by_job(session: Session, company_id: str) -> dict[str, list[Reminder]]:
    found: dict[str, list[Reminder]] = {}
    for row in session.scalars(_of(Reminder, company_id)):
        found.setdefault(row.job, []).append(row)
    return found


def _of(table: Any, company_id: str) -> Any:
    return select(table).where(table.company_id == company_id)


def _problems(company_id: str) -> Any:
    return select(JobOutlook.job, JobOutlook.problem).where(JobOutlook.company_id == company_id)
