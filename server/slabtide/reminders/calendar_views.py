"""HTTP face of the calendars: make an address, end it, and read the calendar behind it."""

from datetime import UTC, datetime

from flask import Blueprint, Response, current_app, jsonify, request
from flask.typing import ResponseReturnValue

from slabtide.config import current_config
from slabtide.json_body import read_object
from slabtide.people import caller, require
from slabtide.reminders import calendar_feeds
from slabtide.reminders.calendar_events import entries
from slabtide.reminders.calendar_feeds import Strangers, UnknownCalendarError
from slabtide.reminders.calendar_text import calendar_text
from slabtide.reminders.contract import LANGUAGES
from slabtide.store.session import read

calendar = Blueprint("calendar", __name__)
STRANGERS = "slabtide_calendar_strangers"


@calendar.post("/api/calendar")
@require()
def make() -> ResponseReturnValue:
    """A private calendar address for the caller, shown this once; the one before ends with it."""
    read_object()
    secret = calendar_feeds.make(caller().company_id, caller().person_id, datetime.now(UTC))
    return jsonify(url=f"{_address()}/calendar/{secret}.ics"), 201


@calendar.delete("/api/calendar")
@require()
def end() -> ResponseReturnValue:
    """End the caller's calendar address."""
    calendar_feeds.end(caller().company_id, caller().person_id, datetime.now(UTC))
    return "", 204


@calendar.get("/calendar/<secret>.ics")
def feed(secret: str) -> ResponseReturnValue:
    """The calendar behind an address, for calendar programs: the secret in it is all they show."""
    now, address = datetime.now(UTC), request.remote_addr or "unknown"
    strangers: Strangers = current_app.extensions[STRANGERS]
    strangers.refuse_if_many(address, now)
    try:
        reader = calendar_feeds.find(secret)
    except UnknownCalendarError:
        strangers.note(address, now)
        raise
    calendar_feeds.count(reader, now)
    language = next((known for known in LANGUAGES if known == reader.language), LANGUAGES[0])
    with read() as session:
        found = entries(session, reader.company_id, reader.person_id, language, now)
    response = Response(
        calendar_text(reader.company_name, _address(), found), content_type="text/calendar; charset=utf-8"
    )
    response.headers["Content-Disposition"] = "inline; filename=slabtide.ics"
    response.cache_control.private = True
    response.cache_control.no_cache = True
    response.add_etag()
    return response.make_conditional(request)


def _address() -> str:
    return current_config().base_url or request.host_url.rstrip("/")
