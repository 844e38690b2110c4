"""HTTP face of exports and of the list of jobs."""

from collections.abc import Callable, Iterator
from datetime import UTC, datetime

from flask import Blueprint, Response, jsonify, request, stream_with_context
from flask.typing import ResponseReturnValue

from slabtide.errors import AppError
from slabtide.office.exports.archive import export_zip
from slabtide.office.exports.cells import csv_lines
from slabtide.office.exports.columns import COLUMNS
from slabtide.office.exports.intake import Wanted, bring_in, look_at
from slabtide.office.exports.job_json import job_json, written
from slabtide.office.exports.reading import MOST_BYTES, MOST_PROBLEMS, Listed, read_list
from slabtide.office.record.naming import file_name
from slabtide.office.turns import Turns
from slabtide.people import caller, require
from slabtide.store.session import read

exports = Blueprint("exports", __name__, url_prefix="/api")
turns = Turns()


@exports.get("/jobs/<job>/export.json")
@require("foreman", "office")
def export_job(job: str) -> ResponseReturnValue:
    """One job whole: every entry, and the state they add up to."""
    with turns.turn(), read() as session:
        found = job_json(session, caller().company_id, job)
    name = file_name(str(found["view"]["name"]) or "job", "export", "json")
    return _download(stream_with_context(written(found)), "application/json", name)


@exports.get("/export.zip")
@require("foreman", "office")
def export_company() -> ResponseReturnValue:
    """The company whole, streamed; with `photos=yes` the photos too."""
    photos = request.args.get("photos", "no") == "yes"
    name = file_name(caller().company_name, f"export-{datetime.now(UTC):%Y-%m-%d}", "zip")
    give = turns.take()
    pieces = stream_with_context(_until_done(export_zip(caller().company_id, photos), give))
    response = _download(pieces, "application/zip", name)
    response.call_on_close(give)  # when nobody reads to the end, or even begins to
    return response


@exports.get("/jobs/import-template.csv")
@require("foreman", "office")
def import_template() -> ResponseReturnValue:
    """The heading of a list of jobs, and one row as an example."""
    rows = [tuple(COLUMNS), tuple(column.example for column in COLUMNS.values())]
    return _download("\ufeff" + csv_lines(rows).replace("'-", "-"), "text/csv; charset=utf-8", "jobs.csv")


@exports.post("/jobs/import")
@require("foreman", "office")
def import_jobs() -> ResponseReturnValue:
    """A list of jobs as CSV. Looked at only, unless `keep=yes`; then all rows become jobs, or none does."""
    request.max_content_length = MOST_BYTES
    if request.mimetype != "text/csv":
        raise AppError(
            "The list must be CSV.", "Send it with Content-Type: text/csv.", code="not_csv", status=415
        )
    listed = read_list(request.get_data(cache=False))
    wanted = look_at(caller().company_id, listed) if listed.lines else []
    if listed.problems:
        return _refused(listed)
    keep = request.args.get("keep", "no") == "yes"
    made = set(bring_in(caller(), wanted, datetime.now(UTC)) if keep else ())
    return jsonify(
        kept=keep,
        new=len(made) if keep else sum(not one.known for one in wanted),
        known=sum(one.known or (keep and one.job not in made) for one in wanted),
        jobs=[_told(one, made, keep) for one in wanted],
        left_aside=listed.left_aside,
    ), (201 if made else 200)


def _told(one: Wanted, made: set[str], keep: bool) -> dict[str, object]:
    known = one.known or (keep and one.job not in made)
    return {"row": one.row, "job": one.job, "name": one.name, "state": "known" if known else "new"}


def _refused(listed: Listed) -> ResponseReturnValue:
    count = len(listed.problems)
    error = AppError(
        f"{count} {'thing is' if count == 1 else 'things are'} wrong in the list. Nothing was brought in.",
        "Correct them in the list and send it again.",
        code="list_wrong",
    )
    problems = sorted(listed.problems, key=lambda one: one.row)[:MOST_PROBLEMS]
    return jsonify(error=error.as_json(), problems=[one.as_json() for one in problems]), 422


def _until_done(pieces: Iterator[bytes], done: Callable[[], None]) -> Iterator[bytes]:
    try:
        yield from pieces
    finally:
        done()


def _download(body: object, kind: str, name: str) -> Response:
    response = Response(body, content_type=kind)  # type: ignore[arg-type]  # text or pieces
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.headers["Cache-Control"] = "private, no-store"
    return response
