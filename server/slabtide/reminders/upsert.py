"""Bring the stored reminders of a job in line with what they should be, and let time pass over them."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from sqlalchemy import CompoundSelect, select
from sqlalchemy.orm import Session, object_session

from slabtide.reminders.contract import STAGES, Spec, When, iso, reminder_id
from slabtide.reminders.plan import Ack, Key, Standing, plan
from slabtide.reminders.snooze import Snooze, held_until
from slabtide.reminders.steps import note, note_change
from slabtide.reminders.words import Telling, in_every_language
from slabtide.store.tables import JobMark, Reminder

_OPEN = ("planned", "due", "failed")


def upsert(
    session: Session,
    company_id: str,
    job: str,
    notebook: Mapping[str, Any],
    specs: Sequence[Spec],
    acks: Mapping[str, Ack],
    now: datetime,
    snoozes: Mapping[str, Snooze] | None = None,
    moved_why: str | None = None,
) -> None:
    """Insert, move, send again, cancel, put off or acknowledge, so that the job's reminders follow `specs`.

    notebook -- {"name", "time_zone"} of the job; acks, snoozes -- by reminder id; without snoozes those
    stored stand
    moved_why -- what moves them now, where one cause is known
    """
    rows = _rows(session, company_id, job)
    by_key = {
        key: acks[identity]
        for key in {*rows, *map(key_of, specs)}
        if (identity := reminder_id(company_id, job, *key)) in acks
    }
    standing = {key: standing_of(row) for key, row in rows.items()}
    after = plan(standing, specs, by_key, now, ZoneInfo(notebook["time_zone"]))
    wanted = {key_of(spec): spec for spec in specs}
    for key, state in after.items():
        row, spec = rows.get(key), wanted.get(key)
        if row is None and spec is not None:
            row = _new_row(session, company_id, job, notebook, spec, state, now)
        elif row is not None:
            _change(row, notebook, spec, state, now, moved_why)
        if row is not None:
            asked = _snooze_of(row) if snoozes is None else snoozes.get(row.id)
            _put_off(row, asked, held_until(spec_of(row), specs, asked, state), now)


def ripen(session: Session, now: datetime) -> int:
    """Let time pass: planned reminders whose time has come fall due, expired ones are missed.

    Returns the number of jobs looked at. Needs no recomputing, so a job that can't be computed still reminds.
    """
    jobs = session.execute(_ripe(now).limit(500)).all()
    for company_id, job in jobs:
        mark = session.get(JobMark, (company_id, job))
        if mark is not None and mark.state and "time_zone" in mark.state:
            rows = _rows(session, company_id, job).values()
            specs = [spec_of(row) for row in rows if row.state != "cancelled"]
            acks = {row.id: ack for row in rows if (ack := _ack_of(row))}
            upsert(session, company_id, job, mark.state, specs, acks, now)
    return len(jobs)


def anything_ripe(session: Session, now: datetime) -> bool:
    """Whether `ripen` would find anything."""
    return session.execute(_ripe(now).limit(1)).first() is not None


def _ripe(now: datetime) -> CompoundSelect[str, str]:
    """Jobs of reminders whose time has come or is over: two questions, so that each has its index."""
    where = select(Reminder.company_id, Reminder.job)
    ripe = where.where(Reminder.state == "planned", Reminder.due <= now)
    over = where.where(Reminder.state.in_(_OPEN), Reminder.expires <= now)
    return ripe.union(over)


def bump(session: Session, company_id: str, job: str, works: Iterable[str], now: datetime) -> None:
    """Note that the standing of some work changed ("what/subject"): it came up, was done or was withdrawn."""
    changed = set(works)
    for (what, subject, _), row in _rows(session, company_id, job).items() if changed else ():
        if f"{what}/{subject}" in changed:
            row.revision, row.updated_at = row.revision + 1, now


def key_of(spec: Spec) -> Key:
    """What tells one reminder of a job from another."""
    return (spec.what, spec.subject, spec.stage)


def standing_of(row: Reminder) -> Standing:
    """How a stored reminder stands."""
    return Standing(row.state, row.due, row.sent_due, row.moved_from, row.ack)  # type: ignore[arg-type]


def spec_of(row: Reminder) -> Spec:
    """The reminder a row was written for."""
    return Spec(
        row.what,  # type: ignore[arg-type]  # the column holds the contract's words
        row.subject,
        row.stage,  # type: ignore[arg-type]
        row.due,
        When.from_json(row.opens),
        When.from_json(row.closes) if row.closes else None,
        row.expires,
    )


def telling_of(row: Reminder, notebook: Mapping[str, Any], at: datetime) -> Telling:
    """What the words of a stored reminder rest on, when read at `at`."""
    name, zone = notebook["name"], notebook["time_zone"]
    return Telling.of(spec_of(row), name, zone, row.moved_from, at, row.moved_why)


def _rows(session: Session, company_id: str, job: str) -> dict[Key, Reminder]:
    # Locked where the database has row locks: another worker may be marking one of them sent.
    query = (
        select(Reminder)
        .where(Reminder.company_id == company_id, Reminder.job == job)
        .order_by(Reminder.id)
        .with_for_update()
    )
    found = {(row.what, row.subject, row.stage): row for row in session.scalars(query)}
    return dict(sorted(found.items(), key=lambda item: (*item[0][:2], STAGES.index(item[1].stage))))


def _ack_of(row: Reminder) -> Ack | None:
    if not row.ack or "by" not in row.ack:
        return None
    return Ack(row.ack["by"], datetime.fromisoformat(row.ack["at"]), row.ack["via"])


def _snooze_of(row: Reminder) -> Snooze | None:
    return Snooze.from_json(row.snooze) if row.snooze else None


def _put_off(row: Reminder, asked: Snooze | None, until: datetime | None, now: datetime) -> None:
    stored = asked.as_json() if asked else None
    if (row.snooze, row.snoozed_until) != (stored, until):
        session = object_session(row)
        if session is not None and asked is not None and until is not None and until != row.snoozed_until:
            note(session, row, "snoozed", now, by=asked.by, at=iso(asked.at), until=iso(until))
        row.snooze, row.snoozed_until, row.updated_at = stored, until, now


def _new_row(
    session: Session,
    company_id: str,
    job: str,
    notebook: Mapping[str, Any],
    spec: Spec,
    state: Standing,
    now: datetime,
) -> Reminder:
    row = Reminder(
        company_id=company_id,
        id=reminder_id(company_id, job, *key_of(spec)),
        job=job,
        what=spec.what,
        subject=spec.subject,
        stage=spec.stage,
        audience=list(spec.audience),
        escalation=0,
        revision=0,
        noted_due=spec.due,
        created_at=now,
    )
    _write(row, spec, state, notebook, now, None)
    session.add(row)
    note(session, row, "planned", now, due=iso(spec.due))
    note_change(row, "planned", None, False, now)
    return row


def _change(
    row: Reminder,
    notebook: Mapping[str, Any],
    spec: Spec | None,
    state: Standing,
    now: datetime,
    moved_why: str | None,
) -> None:
    """Write what changed, and nothing when nothing did."""
    moved = state.due != row.due or (spec is not None and _window_moved(row, spec))
    if moved or standing_of(row) != state:
        was, ack_was = row.state, row.ack
        row.revision += moved
        _write(row, spec or spec_of(row), state, notebook, now, moved_why)
        note_change(row, was, ack_was, spec is None, now)


def _window_moved(row: Reminder, spec: Spec) -> bool:
    closes = spec.closes.as_json() if spec.closes else None
    return (row.opens, row.closes, row.expires) != (spec.opens.as_json(), closes, spec.expires)


def _write(
    row: Reminder,
    spec: Spec,
    state: Standing,
    notebook: Mapping[str, Any],
    now: datetime,
    moved_why: str | None,
) -> None:
    if state.due != row.due:
        row.escalation = 0
        row.moved_why = moved_why if state.moved_from else None
    row.state, row.due, row.sent_due = state.state, state.due, state.sent_due
    row.moved_from, row.ack = state.moved_from, dict(state.ack) if state.ack else None
    row.opens, row.closes = spec.opens.as_json(), spec.closes.as_json() if spec.closes else None
    row.expires, row.updated_at = spec.expires, now
    name, zone = notebook["name"], notebook["time_zone"]
    telling = Telling.of(spec, name, zone, state.moved_from, max(state.due, now), row.moved_why)
    row.title, row.words = in_every_language(telling)
