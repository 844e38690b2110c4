"""Rows into a table by the quickest way a database has: COPY on PostgreSQL, one prepared insert on SQLite."""

import json
from collections.abc import Callable, Iterable, Iterator
from datetime import datetime
from functools import cache
from itertools import chain, islice
from typing import Any

from sqlalchemy import Dialect

from slabtide.store.database import engines
from slabtide.store.tables import Base
from slabtide.store.types import UtcDateTime

AT_ONCE = 50_000
Row = dict[str, Any]


def pour_in(table: type[Base], rows: Iterable[Row]) -> None:
    """Write `rows`, all with the same columns; those left out take the column's default, else null.

    Needs an application context.
    """
    given = iter(rows)
    first = next(given, None)
    if first is None:
        return
    engine = engines().write
    defaults = {name: value for name, value in _defaults(table).items() if name not in first}
    names = [*first, *defaults]
    plain = _plain(engine.dialect)
    rest = tuple(map(plain, defaults.values()))
    values = (tuple(map(plain, row.values())) + rest for row in chain([first], given))
    (_copy if engine.dialect.name == "postgresql" else _insert)(table.__tablename__, names, values)


def _defaults(table: type[Base]) -> Row:
    columns = table.__table__.columns
    return {column.name: column.default.arg for column in columns if column.default is not None}


def _plain(dialect: Dialect) -> Callable[[Any], Any]:
    """A value as the driver takes it."""
    moments = UtcDateTime()
    moment = cache(lambda value: moments.process_bind_param(value, dialect))
    written = json.JSONEncoder(separators=(",", ":")).encode

    def plain(value: Any) -> Any:
        if isinstance(value, datetime):
            return moment(value)
        return written(value) if isinstance(value, dict | list) else value

    return plain


def _copy(table: str, names: list[str], rows: Iterator[tuple[Any, ...]]) -> None:
    connection: Any = engines().write.raw_connection()
    into = f"COPY {table} ({', '.join(names)}) FROM STDIN"
    try:
        with connection.cursor() as cursor, cursor.copy(into) as copy:
            for row in rows:
                copy.write_row(row)
        connection.commit()
    finally:
        connection.close()


def _insert(table: str, names: list[str], rows: Iterator[tuple[Any, ...]]) -> None:
    into = f"INSERT INTO {table} ({', '.join(names)}) VALUES ({', '.join('?' * len(names))})"
    with engines().write.begin() as connection:
        cursor: Any = connection.connection.cursor()
        while part := list(islice(rows, AT_ONCE)):
            cursor.executemany(into, part)
