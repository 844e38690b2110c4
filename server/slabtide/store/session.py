"""The ways to touch the database. All need an application context.

A writer takes the write lock at once (`BEGIN IMMEDIATE`): a transaction that reads first and asks for the
lock later is refused by SQLite under load, however long it is willing to wait.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from contextlib import contextmanager
from typing import Any, TypeVar

from sqlalchemy import Executable, Row, func, select
from sqlalchemy.exc import OperationalError
from sqlalchemy.orm import Session

from slabtide.store.database import engines

T = TypeVar("T")
TRIES = 5
IN_THE_WAY = ("40P01", "40001")  # PostgreSQL: deadlock detected, serialization failure


@contextmanager
def write() -> Iterator[Session]:
    """A session that commits at the end of the block, and rolls all of it back on an exception.

    Not to be opened inside another one: SQLite has one writer, and the inner would wait for the outer.
    """
    with engines().turn, Session(engines().write, expire_on_commit=False) as session, session.begin():
        yield session


def written(work: Callable[[Session], T]) -> T:
    """What `work` gives, in a transaction of its own; done again where another transaction stood in its way.

    That is PostgreSQL's deadlock or serialization failure: all of it was rolled back. `work` must be safe to
    run again from the start.

    Raises: OperationalError when it was in the way each time, or for any other reason.
    """
    for _ in range(TRIES - 1):
        try:
            with write() as session:
                return work(session)
        except OperationalError as error:
            if getattr(error.orig, "sqlstate", None) not in IN_THE_WAY:
                raise
    with write() as session:
        return work(session)


def alone(session: Session, turn: int) -> bool:
    """Whether nobody else holds `turn` until this transaction ends; never waits. SQLite has one writer."""
    if session.get_bind().dialect.name != "postgresql":
        return True
    return bool(session.scalar(select(func.pg_try_advisory_xact_lock(turn))))


@contextmanager
def read() -> Iterator[Session]:
    """A session that sees one state of the database and changes nothing."""
    with Session(engines().read, expire_on_commit=False, autoflush=False) as session:
        yield session  # closing rolls back, and leaves what was read usable outside


def glance(query: Executable, values: Mapping[str, Any]) -> Row[*tuple[Any, ...]] | None:
    """The first row of a single query: one statement needs no transaction, nor a session's upkeep."""
    with engines().glance.connect() as connection:
        return connection.execute(query, values).first()
