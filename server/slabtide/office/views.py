"""HTTP face of the office room: the outlook and the board."""

import gzip
import json
from datetime import UTC, datetime
from typing import Any

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue

from slabtide.config import current_config
from slabtide.log.instants import write_instant
from slabtide.office.board import board_json
from slabtide.office.board_asked import read_choice
from slabtide.office.conflicts.stored import conflicts_json
from slabtide.office.forecast_state import forecast_json
from slabtide.office.found import jobs_found, read_wanted
from slabtide.office.near import carried, read_asked
from slabtide.office.record.gather import JobUnknownError
from slabtide.office.told import VERSION, digest, one_job_json, outlook_json, outlook_mark
from slabtide.people import caller, require
from slabtide.store.session import read
from slabtide.store.tables import JobMark

_WORTH_PACKING_BYTES = 1000

office = Blueprint("office", __name__, url_prefix="/api")


@office.get("/outlook")
@require()
def outlook() -> ResponseReturnValue:
    """What a phone caches beside the log: outlooks and reminders of the open jobs, or, with `near=1`, of
    those it is to carry and those named in `keep`. 304 when it has them."""
    now, asked = datetime.now(UTC), read_asked(request.args)
    with read() as session:
        jobs = carried(session, caller(), now, asked)
        mark = outlook_mark(session, caller(), now, jobs)
        if _has(mark):
            return _unchanged(mark)
        found = outlook_json(session, caller(), now, jobs)
    return _answer(found, mark)


@office.get("/jobs/<job>/outlook")
@require()
def outlook_of_one(job: str) -> ResponseReturnValue:
    """What the outlook tells of one job, for a device that does not carry it."""
    now = datetime.now(UTC)
    with read() as session:
        if session.get(JobMark, (caller().company_id, job)) is None:
            raise JobUnknownError
        found = one_job_json(session, caller().company_id, job, now)
    mark = digest({name: value for name, value in found.items() if name != "server_time"})
    return _unchanged(mark) if _has(mark) else _answer(found, mark)


@office.get("/jobs")
@require()
def jobs() -> ResponseReturnValue:
    """Jobs by name and place, for a device that does not carry them all; closed ones too."""
    wanted = read_wanted(request.args)
    with read() as session:
        found = {"version": VERSION} | jobs_found(session, caller().company_id, wanted)
    mark = digest(found)
    return _unchanged(mark) if _has(mark) else _answer(found, mark)


@office.get("/board")
@require("office", "foreman")
def board() -> ResponseReturnValue:
    """Every open job at a glance; those asked for, a page at a time, where the address says so."""
    now, choice = datetime.now(UTC), read_choice(request.args)
    with read() as session:
        found = board_json(session, caller().company_id, now, choice)
    mark = digest(found)
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
    mark = digest(found)
    if _has(mark):
        return _unchanged(mark)
    return _answer({"version": VERSION, "server_time": write_instant(now)} | found, mark)


@office.get("/forecasts")
@require("office", "foreman")
def forecasts() -> ResponseReturnValue:
    """How the forecast sources stand: for a job's place where `job` names one, else for the company."""
    with read() as session:
        found = forecast_json(session, caller().company_id, current_config(), request.args.get("job"))
    return _answer(found, digest(found))


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
