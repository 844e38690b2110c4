"""Which way a database takes to what it is asked: none may walk through a table that grows with the years."""

import re
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from typing import Any

from flask import Flask
from sqlalchemy import event, text

from slabtide.store.database import engines

GROWS = ("event", "reminder", "reminder_step", "delivery")
_SCANS = {
    "sqlite": re.compile(rf"^SCAN (?:TABLE )?({'|'.join(GROWS)})\b"),
    "postgresql": re.compile(rf"Seq Scan on ({'|'.join(GROWS)})\b"),
}
Asked = tuple[str, Any]


def whole_tables_walked(app: Flask, work: Callable[[], object]) -> dict[str, str]:
    """The queries of `work` that read a growing table from end to end, and how. Empty is good.

    Needs an application context.
    """
    with _asked(app) as queries:
        work()
    name = engines().read.dialect.name
    found: dict[str, str] = {}
    for query, values in queries:
        for line in _plan(name, query, values):
            if _SCANS[name].search(line):
                found[query] = line
    return found


@contextmanager
def _asked(app: Flask) -> Iterator[list[Asked]]:
    queries: list[Asked] = []

    def hear(connection: Any, cursor: Any, statement: str, values: Any, context: Any, many: bool) -> None:
        if statement.lstrip().upper().startswith(("SELECT", "UPDATE", "DELETE")):
            queries.append((statement, values[0] if many else values))

    engine = engines().read.engine
    event.listen(engine, "before_cursor_execute", hear)
    try:
        yield queries
    finally:
        event.remove(engine, "before_cursor_execute", hear)


def _plan(name: str, query: str, values: Any) -> list[str]:
    head = "EXPLAIN QUERY PLAN " if name == "sqlite" else "EXPLAIN "
    with engines().read.connect() as connection:
        rows = connection.exec_driver_sql(head + query, values).fetchall()
    return [str(row[-1]).strip() for row in rows]


def analyze() -> None:
    """Let the database count what it holds, as it does by itself in time. Needs an application context."""
    with engines().write.begin() as connection:
        connection.execute(text("ANALYZE"))
