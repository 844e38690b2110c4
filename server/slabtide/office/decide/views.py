"""HTTP face of deciding: what-if and advice, for those who lead."""

from datetime import UTC, datetime

from flask import Blueprint, jsonify
from flask.typing import ResponseReturnValue
from sqlalchemy import select

from slabtide.errors import NotFoundError
from slabtide.json_body import MalformedError, read_object
from slabtide.log.fold import fold
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.decide.asked import advice_of, what_if_of
from slabtide.office.learned.known import Prior
from slabtide.office.learned.standing import prior_for
from slabtide.office.stored_weather import stored_hours
from slabtide.office.working import Stored
from slabtide.people import caller, require
from slabtide.store.session import read
from slabtide.store.tables import Event
from slabtide.weather.contract import HourlySeries

decide = Blueprint("decide", __name__, url_prefix="/api")


@decide.post("/jobs/<job>/what-if")
@require("foreman", "office")
def what_if(job: str) -> ResponseReturnValue:
    """A pour beside the same pour with something changed. Records nothing."""
    asked = read_object()
    changes = asked.get("changes")
    if set(asked) != {"changes"} or not isinstance(changes, list):
        raise MalformedError("The body holds a list of changes and nothing else.", "changes")
    view, stored, prior = _job(job)
    return jsonify(what_if_of(view, stored, datetime.now(UTC), changes, prior))


@decide.get("/jobs/<job>/advice")
@require("foreman", "office")
def advice(job: str) -> ResponseReturnValue:
    """When to pour: the hours ranked, go or no-go."""
    view, stored, prior = _job(job)
    answer = jsonify(advice_of(view, stored, datetime.now(UTC), prior))
    answer.cache_control.no_store = True
    return answer


def _job(job: str) -> tuple[JobView, Stored, Prior | None]:
    company = caller().company_id
    with read() as session:
        events = list(session.scalars(select(Event).where(Event.company_id == company, Event.job == job)))
        if not events:
            raise NotFoundError("There is no such job.", "Go back to the list of jobs.")
        view = view_job(fold(events, job))
        prior = prior_for(session, company, view)

    def stored(start: datetime, end: datetime) -> HourlySeries | None:
        with read() as session:
            return stored_hours(session, company, job, start, end)

    return view, stored, prior
