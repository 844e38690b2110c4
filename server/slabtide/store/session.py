"""The two ways to touch the database. Both need an application context.

A writer takes the write lock at once (`BEGIN IMMEDIATE`): a transaction that reads first and asks for the
lock later is refused by SQLite under load, however long it is willing to wait.
"""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from sqlalchemy.orm import Session

from slabtide.store.database import BEGIN_OPTION, db


@contextmanager
def write() -> Iterator[Session]:
    """A session that commits at the end of the block, and rolls all of it back on an exception."""
    engine = db.engine.execution_options(**{BEGIN_OPTION: "BEGIN IMMEDIATE"})
    with Session(engine, expire_on_commit=False) as session, session.begin():
        yield session


@contextmanager
def read() -> Iterator[Session]:
    """A session that sees one state of the database and changes nothing."""
    with Session(db.engine, expire_on_commit=False, autoflush=False) as session:
        yield session  # closing rolls back, and leaves what was read usable outside
