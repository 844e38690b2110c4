"""Commands that write documents: the record of a job, the export of a company."""

from __future__ import annotations

import os
import tempfile
from argparse import Namespace
from collections.abc import Iterable
from pathlib import Path

from slabtide.app import create_app
from slabtide.cli.telling import in_words, say
from slabtide.office.exports.archive import export_zip
from slabtide.office.record.contract import read_asked
from slabtide.office.record.gather import gather
from slabtide.people.companies import find_company
from slabtide.store import database
from slabtide.store.session import read


@in_words
def record(wanted: Namespace) -> int:
    """Write a job's record as a PDF."""
    # Only here: the printing takes long to load, and every command loads this file.
    from slabtide.office.record.build import build_record

    asked = read_asked({"for": wanted.reader, "language": wanted.language, "units": wanted.units})
    app = create_app()
    with app.app_context():
        company_id = find_company(wanted.company)
        with read() as session:
            source = gather(session, company_id, wanted.job)
        size = _write_whole(Path(wanted.out), [build_record(source, asked)])
    database.dispose(app)
    return _told(wanted.out, size)


@in_words
def export(wanted: Namespace) -> int:
    """Write a company's export as a zip."""
    app = create_app()
    with app.app_context():
        size = _write_whole(Path(wanted.file), export_zip(find_company(wanted.company), wanted.photos))
    database.dispose(app)
    return _told(wanted.file, size)


def _told(name: str, size: int | None) -> int:
    if size is None:
        return 1
    print(f"{name}: {size / 1e6:.2f} MB.")
    return 0


def _write_whole(target: Path, pieces: Iterable[bytes]) -> int | None:
    """Put the pieces in a file, whole or not at all; its size, or None where it can't be written."""
    try:
        handle, aside = tempfile.mkstemp(dir=target.parent, prefix=f".{target.name}.")
    except OSError as problem:
        say(f"slabtide: {target} can't be written: {problem.strerror}.")
        return None
    try:
        with os.fdopen(handle, "wb") as file:
            file.writelines(pieces)
        os.replace(aside, target)
    except OSError as problem:
        Path(aside).unlink(missing_ok=True)
        say(f"slabtide: {target} can't be written: {problem.strerror}.")
        return None
    except BaseException:
        Path(aside).unlink(missing_ok=True)
        raise
    return target.stat().st_size
