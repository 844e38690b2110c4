"""The company's whole log as one zip, written as it goes out: bounded memory, whatever the company's size.

Entries never change and are numbered, so that all up to one number are one state, read in short turns.
"""

import io
import json
import tempfile
import zipfile
from collections.abc import Iterator
from contextlib import ExitStack
from datetime import datetime
from pathlib import Path
from typing import IO

from sqlalchemy import func, select

from slabtide.config import current_config
from slabtide.log.fold import fold
from slabtide.log.instants import read_instant
from slabtide.log.view import view_job
from slabtide.office.exports.cells import csv_lines
from slabtide.office.exports.job_json import event_json
from slabtide.office.exports.tables import TABLES, head_of, rows_of
from slabtide.office.record.gather import names_of
from slabtide.store.session import read
from slabtide.store.tables import Company, Event, Person, Photo

AT_ONCE = 2000
IN_MEMORY_BYTES = 1 << 20
PIECE_BYTES = 1 << 16
BOM = "\ufeff"  # spreadsheets take the file for UTF-8 by it
READ_ME = """Slabtide export of {company}, up to entry {seq}.

events.jsonl   every entry as it was recorded: one JSON object on each line, in the server's order
*.csv          what the entries add up to; SI units, named in the columns; times are UTC
people.csv     who the ids are
photos/        the photos by name, when they were asked for

A cell that a spreadsheet could take for a formula has an apostrophe in front.
jobs.csv can be read in again as a list of jobs.
"""


def export_zip(company_id: str, photos: bool = False) -> Iterator[bytes]:
    """The archive's bytes, in pieces. Needs the application context until it ends."""
    with read() as session:
        company = session.get_one(Company, company_id).name
        newest = select(func.max(Event.seq), func.max(Event.received_at)).where(
            Event.company_id == company_id
        )
        last, received = session.execute(newest).one()
    until, date = int(last or 0), read_instant(received) if received else None
    sink = _Sink()
    with zipfile.ZipFile(sink, "w", zipfile.ZIP_DEFLATED, compresslevel=6) as archive:
        text = READ_ME.format(company=company, seq=until)
        yield from _file(archive, sink, "README.txt", date, iter((text.encode(),)))
        yield from _file(archive, sink, "events.jsonl", date, _events(company_id, until))
        yield from _file(archive, sink, "people.csv", date, iter((_people(company_id),)))
        yield from _csv_files(archive, sink, date, company_id, until)
        if photos:
            yield from _photos(archive, sink, date, company_id)
    yield sink.taken()


class _Sink(io.RawIOBase):
    """Where the archive writes; what came is taken away and sent."""

    def __init__(self) -> None:
        self._held = bytearray()

    def writable(self) -> bool:
        return True

    def write(self, data: object) -> int:
        view = memoryview(data)  # type: ignore[arg-type]  # zipfile writes bytes
        self._held += view
        return len(view)

    def taken(self) -> bytes:
        data, self._held = bytes(self._held), bytearray()
        return data

    @property
    def held(self) -> int:
        return len(self._held)


def _file(
    archive: zipfile.ZipFile, sink: _Sink, name: str, date: datetime | None, pieces: Iterator[bytes]
) -> Iterator[bytes]:
    info = zipfile.ZipInfo(name, date.timetuple()[:6] if date else (1980, 1, 1, 0, 0, 0))
    info.compress_type = zipfile.ZIP_STORED if name.endswith(".jpg") else zipfile.ZIP_DEFLATED
    info.external_attr = 0o600 << 16
    with archive.open(info, "w", force_zip64=True) as file:
        for piece in pieces:
            file.write(piece)
            if sink.held >= PIECE_BYTES:
                yield sink.taken()
    yield sink.taken()


def _events(company_id: str, until: int) -> Iterator[bytes]:
    after = 0
    while after < until:
        with read() as session:
            query = select(Event).where(Event.company_id == company_id, Event.seq > after, Event.seq <= until)
            rows = list(session.scalars(query.order_by(Event.seq).limit(AT_ONCE)))
        if not rows:
            return
        lines = (json.dumps(event_json(row), ensure_ascii=False, separators=(",", ":")) for row in rows)
        yield ("\n".join(lines) + "\n").encode()
        after = rows[-1].seq


def _people(company_id: str) -> bytes:
    with read() as session:
        query = select(Person).where(Person.company_id == company_id).order_by(Person.name, Person.id)
        rows = [(person.id, person.name, person.role, person.language) for person in session.scalars(query)]
    return (BOM + csv_lines([("person", "name", "role", "language"), *rows])).encode()


def _csv_files(
    archive: zipfile.ZipFile, sink: _Sink, date: datetime | None, company_id: str, until: int
) -> Iterator[bytes]:
    """Each job is folded once and its rows laid aside by table; then the tables go in one after another."""
    with ExitStack() as stack:
        aside: dict[str, IO[bytes]] = {
            name: stack.enter_context(tempfile.SpooledTemporaryFile(IN_MEMORY_BYTES)) for name in TABLES
        }
        for name, file in aside.items():
            file.write((BOM + csv_lines([head_of(name)])).encode())
        for job in _jobs(company_id, until):
            _lay_aside(aside, company_id, job, until)
        for name, file in aside.items():
            file.seek(0)
            yield from _file(archive, sink, f"{name}.csv", date, _read(file))


def _jobs(company_id: str, until: int) -> list[str]:
    with read() as session:
        query = select(Event.job).where(Event.company_id == company_id, Event.seq <= until)
        return sorted(set(session.scalars(query.distinct())))


def _lay_aside(aside: dict[str, IO[bytes]], company_id: str, job: str, until: int) -> None:
    with read() as session:
        query = select(Event).where(Event.company_id == company_id, Event.job == job, Event.seq <= until)
        view, people = view_job(fold(session.scalars(query), job)), names_of(session, company_id)
    for name, file in aside.items():
        file.write(csv_lines(rows_of(name, view, people)).encode())


def _photos(archive: zipfile.ZipFile, sink: _Sink, date: datetime | None, company_id: str) -> Iterator[bytes]:
    with read() as session:
        query = select(Photo.sha256, Photo.path).where(Photo.company_id == company_id).order_by(Photo.sha256)
        found = [(row.sha256, row.path) for row in session.execute(query)]
    folder = current_config().photo_dir
    for name, path in found:
        if (folder / path).is_file():
            yield from _file(archive, sink, f"photos/{name}.jpg", date, _pieces(folder / path))


def _pieces(file: Path) -> Iterator[bytes]:
    with file.open("rb") as opened:
        yield from _read(opened)


def _read(file: IO[bytes]) -> Iterator[bytes]:
    while piece := file.read(PIECE_BYTES):
        yield piece
