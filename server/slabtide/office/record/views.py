"""HTTP face of the record."""

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue

from slabtide.office.record.contract import read_asked
from slabtide.office.record.gather import gather
from slabtide.office.record.naming import file_name
from slabtide.office.turns import Turns
from slabtide.people import caller, require
from slabtide.store.session import read

record = Blueprint("record", __name__, url_prefix="/api/jobs")
turns = Turns()


@record.get("/<job>/record.pdf")
@require("foreman", "office")
def record_pdf(job: str) -> ResponseReturnValue:
    """The close-out record: `for` owner or file, `language` en or es, `units` us or metric."""
    # Only here: the printing takes as long to load as the whole rest of the server, for a rare request.
    from slabtide.office.record.build import build_record

    asked = read_asked(request.args)
    with turns.turn():
        with read() as session:
            source = gather(session, caller().company_id, job)
        data = build_record(source, asked)
    response = Response(data, content_type="application/pdf")
    name = file_name(source.view.name or "job", asked.reader, "pdf")
    response.headers["Content-Disposition"] = f'attachment; filename="{name}"'
    response.headers["Cache-Control"] = "private, no-store"
    return response
