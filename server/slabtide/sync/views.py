"""HTTP face of sync: one call, up and down."""

from __future__ import annotations

import json
import zlib
from datetime import UTC, datetime
from typing import Any

from flask import Blueprint, Response, request
from flask.typing import ResponseReturnValue

from slabtide.json_body import read_object
from slabtide.log.instants import write_instant
from slabtide.people import caller, require
from slabtide.sync.contract import Outcome, read_after, read_limit, read_request
from slabtide.sync.heard import note_heard_if_news
from slabtide.sync.offer import offer
from slabtide.sync.pull import Pulled, pull, pull_job, up_to_date

sync = Blueprint("sync", __name__, url_prefix="/api")
WORTH_PACKING_BYTES = 1024
# Level 1 packs a log to a fifth at five times the speed of the default, which gains little more.
PACK_LEVEL = 1


@sync.post("/sync")
@require()
def exchange() -> ResponseReturnValue:
    """Take what the device has, give what it lacks."""
    wanted = read_request(read_object())
    most = read_limit(request.args.to_dict())
    now = datetime.now(UTC)
    outcome = offer(caller(), wanted, now) if wanted.events else Outcome()
    if not outcome.accepted:
        note_heard_if_news(caller(), wanted, now)
    nothing_new = not outcome.accepted and wanted.cursor >= caller().log_seq
    pulled = up_to_date(caller()) if nothing_new else pull(caller(), wanted, most)
    told = {"accepted": outcome.accepted, "rejected": outcome.rejected, "clamped": outcome.clamped}
    return _answer(told, pulled, now)


@sync.get("/jobs/<job>/events")
@require()
def events_of_one(job: str) -> ResponseReturnValue:
    """A job's entries for a device that begins to carry it; none for a job that is not here."""
    after, most = read_after(request.args.to_dict())
    return _answer({"job": job}, pull_job(caller(), job, after, most), datetime.now(UTC))


def _answer(told: dict[str, Any], pulled: Pulled, now: datetime) -> Response:
    head = told | {
        "cursor": pulled.cursor,
        "more": pulled.more,
        "epoch": pulled.epoch,
        "server_time": write_instant(now),
    }
    text = f'{json.dumps(head, separators=(",", ":"))[:-1]},"events":{pulled.events_json}}}'
    response = Response(text, content_type="application/json")
    if request.accept_encodings["gzip"] > 0 and len(text) > WORTH_PACKING_BYTES:
        packer = zlib.compressobj(PACK_LEVEL, wbits=31)
        response.set_data(packer.compress(response.get_data()) + packer.flush())
        response.headers["Content-Encoding"] = "gzip"
    response.headers["Vary"] = "Accept-Encoding"
    return response
