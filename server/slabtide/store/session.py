"""The ways to touch the database. All need an application context.

A writer takes the write lock at once (`BEGIN IMMEDIATE`): a transaction that reads first and asks for the
lock later is refused by SQLite under load, however long it is willing to wait.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import contextmanager
from typing import Any

from sqlalchemy import Executable, Row
from sqlalchemy.orm import Session

from slabtide.store.database import engines


@contextmanager
def write() -> Iterator[Session]:
    """A session that commits at the end of the block, and rolls all of it back on an exception.

    Not to be opened inside another one: SQLite has one writer, and the inner would wait for the outer.
    """
    with engines().turn, Session(engines().write, expire_on_commit=False) as session, session.begin():
        yield session


@contextmanager
def read() -> Iterator[Session]:
    """A session that sees one state of the database and changes nothing."""
    with Session(engines().read, expire_on_commit=False, autoflush=False) as session:
        yield session  # closing rolls back, and leaves what was read usable outside


def glance(query: Executable, values: Mapping[str, Any]) -> Row[*tuple[Any, ...]] | None:
    """The first row of a single query: one statement needs no transaction, nor a session's upkeep."""
    with engines().glance.connect() as connection:
        return connection.execute(query, values).first()
