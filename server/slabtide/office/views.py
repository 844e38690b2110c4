"""HTTP face of the office room: the outlook and the board."""

import gzip
import hashlib
import json
from datetime import UTC, datetime, timedelta
from typing import Any

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue
from sqlalchemy import func, null, select
from sqlalchemy.orm import Session

from slabtide.config import current_config
from slabtide.log.instants import write_instant
from slabtide.office.assumed import told_as_kept
from slabtide.office.board import board_json
from slabtide.office.board_asked import read_choice
from slabtide.office.conflicts.stored import conflicts_json
from slabtide.office.forecast_state import forecast_json
from slabtide.office.learned.standing import mixes_told, priors_told
from slabtide.people import Caller, caller, require
from slabtide.store.meta import epoch_in
from slabtide.store.session import read
from slabtide.store.tables import BoardRow, JobMark, JobOutlook, Person, Reminder

VERSION = 1
REMINDERS_KEPT = timedelta(days=7)
_WORTH_PACKING_BYTES = 1000

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

office = Blueprint("office", __name__, url_prefix="/api")


@office.get("/outlook")
@require()
def outlook() -> ResponseReturnValue:
    """What a phone caches beside the log: outlooks and reminders of the open jobs. 304 when it has them."""
    now = datetime.now(UTC)
    with read() as session:
        mark = _outlook_mark(session, caller(), now)
        if _has(mark):
            return _unchanged(mark)
        found = outlook_json(session, caller(), now)
    return _answer(found, mark)


@office.get("/board")
@require("office", "foreman")
def board() -> ResponseReturnValue:
    """Every open job at a glance; those asked for, a page at a time, where the address says so."""
    now, choice = datetime.now(UTC), read_choice(request.args)
    with read() as session:
        found = board_json(session, caller().company_id, now, choice)
    mark = _digest(found)
    if _has(mark):
        return _unchanged(mark)
    return _answer({"version": VERSION, "server_time": write_instant(now)} | found, mark)


@office.get("/conflicts")
@require("office", "foreman")
def conflicts() -> ResponseReturnValue:
    """Work of several jobs that wants one crew, saw or sprayer at one time, and what to do first."""
    now = datetime.now(UTC)
    with read() as session:
        found = conflicts_json(session, caller().company_id, now)
    mark = _digest(found)
    if _has(mark):
        return _unchanged(mark)
    return _answer({"version": VERSION, "server_time": write_instant(now)} | found, mark)


@office.get("/forecasts")
@require("office", "foreman")
def forecasts() -> ResponseReturnValue:
    """How the forecast sources stand: for a job's place where `job` names one, else for the company."""
    with read() as session:
        found = forecast_json(session, caller().company_id, current_config(), request.args.get("job"))
    return _answer(found, _digest(found))


def outlook_json(session: Session, who: Caller, now: datetime) -> dict[str, Any]:
    """The outlook of a company as one of its devices reads it."""
    open_jobs = _open_jobs(session, who.company_id)
    rows = session.scalars(select(JobOutlook).where(JobOutlook.company_id == who.company_id))
    priors = priors_told(session, who.company_id)
    return {
        "version": VERSION,
        "server_time": write_instant(now),
        "epoch": epoch_in(session),
        "company": {"id": who.company_id, "name": who.company_name},
        "me": {
            "person": who.person_id,
            "name": who.name,
            "role": who.role,
            "device": who.device_id,
            "language": who.language,
        },
        "people": _people(session, who.company_id),
        "jobs": {row.job: _job(row, priors.get(row.job)) for row in rows if row.job in open_jobs},
        "mixes": mixes_told(session, who.company_id),
        "reminders": [reminder_json(row) for row in _reminders(session, who.company_id, open_jobs, now)],
    }


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
        "title": row.title,
        "words": row.words,
    }


def _job(row: JobOutlook, prior: dict[str, Any] | None) -> dict[str, Any]:
    return {
        "prior": prior,
        "computed_at": write_instant(row.computed_at),
        "weather": row.weather,
        "problem": row.problem,
        "planned": row.planned,
        "timeline": row.timeline,
    } | told_as_kept(row.assumptions or [])


def _open_jobs(session: Session, company_id: str) -> set[str]:
    jobs = session.scalars(select(JobMark.job).where(JobMark.company_id == company_id))
    closed = session.scalars(
        select(BoardRow.job).where(
            BoardRow.company_id == company_id, ~BoardRow.open, BoardRow.shown.is_not(null())
        )
    )
    return set(jobs) - set(closed)


def _people(session: Session, company_id: str) -> list[dict[str, str]]:
    people = session.scalars(select(Person).where(Person.company_id == company_id).order_by(Person.name))
    return [{"id": person.id, "name": person.name, "role": person.role} for person in people]


def _reminders(session: Session, company_id: str, jobs: set[str], now: datetime) -> list[Any]:
    rows = session.execute(
        select(*_TOLD)
        .where(Reminder.company_id == company_id, Reminder.expires > now - REMINDERS_KEPT)
        .order_by(Reminder.due)
    )
    return [row for row in rows if row.job in jobs]


def _outlook_mark(session: Session, who: Caller, now: datetime) -> str:
    """Tells one outlook from the next without reading the timelines."""
    jobs = session.execute(
        select(JobOutlook.job, JobOutlook.computed_at, JobOutlook.input_hash, JobOutlook.problem).where(
            JobOutlook.company_id == who.company_id
        )
    )
    # What is counted by state and by the last change tells any two standings apart, and is read at once.
    reminders = session.execute(
        select(
            Reminder.state,
            func.count(),
            func.max(Reminder.updated_at),
            func.sum(Reminder.revision),
        )
        .where(Reminder.company_id == who.company_id, Reminder.expires > now - REMINDERS_KEPT)
        .group_by(Reminder.state)
    )
    parts = [
        [VERSION, epoch_in(session), who.device_id, who.name, who.role, who.language, who.company_name],
        _people(session, who.company_id),
        sorted(map(list, jobs), key=lambda row: str(row[0])),
        sorted(map(list, reminders), key=lambda row: str(row[0])),
        sorted(_open_jobs(session, who.company_id)),
        mixes_told(session, who.company_id),
        sorted(priors_told(session, who.company_id).items()),
    ]
    return _digest(parts)


def _digest(parts: Any) -> str:
    text = json.dumps(parts, default=str, sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()[:32]


def _has(mark: str) -> bool:
    return request.if_none_match.contains_weak(mark)


def _unchanged(mark: str) -> Response:
    return _marked(Response(status=304), mark)


def _answer(found: dict[str, Any], mark: str) -> Response:
    data = json.dumps(found, ensure_ascii=False, separators=(",", ":")).encode()
    response = Response(data, mimetype="application/json")
    if len(data) > _WORTH_PACKING_BYTES and request.accept_encodings["gzip"] > 0:
        response.set_data(gzip.compress(data, 5))
        response.headers["Content-Encoding"] = "gzip"
    response.vary.add("Accept-Encoding")
    return _marked(response, mark)


def _marked(response: Response, mark: str) -> Response:
    response.set_etag(mark, weak=True)
    response.cache_control.private = True
    response.cache_control.no_cache = True
    return response
