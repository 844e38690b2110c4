"""HTTP face of what is learned: looking back, and what one closed job taught."""

from datetime import UTC, datetime

from flask import Blueprint, Response, jsonify, request
from flask.typing import ResponseReturnValue

from slabtide.log.instants import write_instant
from slabtide.office.learned.asking import read_asked
from slabtide.office.learned.looking import look_back, taught_json
from slabtide.office.turns import Turns
from slabtide.people import caller, require
from slabtide.store.session import read

learned = Blueprint("learned", __name__, url_prefix="/api")
turns = Turns()


@learned.get("/lookback")
@require("office", "foreman")
def lookback() -> ResponseReturnValue:
    """The closed jobs of a `mix`, a `plant`, a `month`, days `from` and `to`: whatever of these is asked."""
    asked = read_asked(request.args)
    with turns.turn(), read() as session:
        found = look_back(session, caller().company_id, asked)
    return _private(jsonify({"version": 1, "server_time": write_instant(datetime.now(UTC))} | found))


@learned.get("/jobs/<job>/taught")
@require("office", "foreman")
def taught(job: str) -> ResponseReturnValue:
    """What a closed job told of its mix, and what that moved."""
    with read() as session:
        found = taught_json(session, caller().company_id, job)
    return _private(jsonify(found))


def _private(response: Response) -> Response:
    response.headers["Cache-Control"] = "private, no-store"
    return response
