"""HTTP face of a reminder's life."""

from flask import Blueprint, jsonify
from flask.typing import ResponseReturnValue

from slabtide.office.told import reminder_json
from slabtide.people import caller, require
from slabtide.reminders.life import life_json
from slabtide.store.session import read
from slabtide.store.tables import Reminder

life = Blueprint("life", __name__, url_prefix="/api")


@life.get("/reminders/<reminder>")
@require()
def reminder_life(reminder: str) -> ResponseReturnValue:
    """One reminder, and everything that happened to it, in order."""
    with read() as session:
        found = life_json(session, caller().company_id, reminder)
        row = session.get_one(Reminder, (caller().company_id, reminder))
        told = reminder_json(row)
    response = jsonify(reminder=told, **found)
    response.headers["Cache-Control"] = "private, no-store"
    return response
