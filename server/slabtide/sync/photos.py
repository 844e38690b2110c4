"""Photos, kept by the SHA-256 of what the phone sent."""

from __future__ import annotations

import hashlib
import os
import re
import tempfile
from datetime import datetime
from http import HTTPStatus
from pathlib import Path

from slabtide.config import current_config
from slabtide.errors import AppError, NotFoundError
from slabtide.people import Caller
from slabtide.store.session import read, write
from slabtide.store.tables import Photo
from slabtide.store.upsert import insert_into
from slabtide.sync.pictures import remake

MOST_BYTES = 12 * 1024 * 1024
_SHA256 = re.compile(r"[0-9a-f]{64}\Z", re.ASCII)


class PhotoNameError(AppError):
    """The address does not name the bytes."""

    code = "photo_name"

    def __init__(self) -> None:
        super().__init__(
            "The photo's bytes and its name do not agree.", "Send it again; it may have been cut on the way."
        )


class PhotoUnknownError(NotFoundError):
    """The company has no such photo."""

    code = "photo_unknown"
    status = HTTPStatus.NOT_FOUND

    def __init__(self) -> None:
        super().__init__("This photo is not here yet.", "It arrives when the phone that took it has signal.")


def has_photo(company_id: str, sha256: str) -> bool:
    """Whether the company's photo is here already, file and all."""
    return _file_of(company_id, sha256) is not None


def keep(caller: Caller, sha256: str, data: bytes, now: datetime) -> None:
    """Store a photo under the hash of its bytes. Raises `PhotoNameError`, `PictureRefusedError`."""
    if not _SHA256.match(sha256) or hashlib.sha256(data).hexdigest() != sha256:
        raise PhotoNameError
    picture = remake(data)
    path = f"{caller.company_id}/{sha256[:2]}/{sha256}.jpg"
    _write_file(current_config().photo_dir / path, picture.jpeg)
    with write() as session:
        row = insert_into(session, Photo).values(
            company_id=caller.company_id,
            sha256=sha256,
            path=path,
            size=len(picture.jpeg),
            mime="image/jpeg",
            width=picture.width,
            height=picture.height,
            by=caller.person_id,
            at=now,
        )
        session.execute(row.on_conflict_do_nothing())


def path_of(company_id: str, sha256: str) -> Path:
    """Where the re-encoded photo lies. Raises `PhotoUnknownError`."""
    file = _file_of(company_id, sha256)
    if file is None:
        raise PhotoUnknownError
    return file


def _file_of(company_id: str, sha256: str) -> Path | None:
    with read() as session:
        photo = session.get(Photo, (company_id, sha256))
    file = current_config().photo_dir / photo.path if photo else None
    return file if file and file.is_file() else None


def _write_file(target: Path, data: bytes) -> None:
    """Whole or not at all, and on the disk before the phone may forget its copy."""
    target.parent.mkdir(parents=True, exist_ok=True)
    handle, name = tempfile.mkstemp(dir=target.parent, suffix=".part")
    try:
        with os.fdopen(handle, "wb") as file:
            file.write(data)
            file.flush()
            os.fsync(file.fileno())
        os.replace(name, target)
    except BaseException:
        Path(name).unlink(missing_ok=True)
        raise
