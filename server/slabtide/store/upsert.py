"""`INSERT … ON CONFLICT` in the dialect of the session's database."""

from __future__ import annotations

from sqlalchemy.dialects import postgresql, sqlite
from sqlalchemy.orm import Session

from slabtide.store.tables import Base


def insert_into(session: Session, table: type[Base]) -> sqlite.Insert | postgresql.Insert:
    """An insert that has `on_conflict_do_nothing` and `on_conflict_do_update`."""
    if session.get_bind().dialect.name == "postgresql":
        return postgresql.insert(table)
    return sqlite.insert(table)
