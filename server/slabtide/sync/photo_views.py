"""HTTP face of the photos: sent apart from the events, after them."""

from __future__ import annotations

from datetime import UTC, datetime

from flask import Blueprint, request, send_file
from flask.typing import ResponseReturnValue

from slabtide.people import caller, require
from slabtide.sync.photos import MOST_BYTES, has_photo, keep, path_of
from slabtide.sync.pictures import FORMATS, PictureRefusedError

photos = Blueprint("photos", __name__, url_prefix="/api/photos")


@photos.put("/<sha256>")
@require()
def put_photo(sha256: str) -> ResponseReturnValue:
    """Keep a photo; 201 when it is new, 200 when it was here."""
    request.max_content_length = MOST_BYTES
    if request.mimetype not in FORMATS:
        raise PictureRefusedError(f"{request.mimetype or 'No type'} is not a kind of picture taken here.")
    if has_photo(caller().company_id, sha256):
        return {"sha256": sha256}, 200
    keep(caller(), sha256, request.get_data(cache=False), datetime.now(UTC))
    return {"sha256": sha256}, 201


@photos.get("/<sha256>")
@require()
def get_photo(sha256: str) -> ResponseReturnValue:
    """The photo as a JPEG of our own making."""
    response = send_file(path_of(caller().company_id, sha256), mimetype="image/jpeg", conditional=True)
    response.headers["Cache-Control"] = "private, max-age=31536000, immutable"
    response.headers["Content-Disposition"] = "inline"
    response.headers["Content-Security-Policy"] = "default-src 'none'; sandbox"
    return response
