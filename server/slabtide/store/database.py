"""The database engine of an application, and how a transaction begins on it."""

from __future__ import annotations

import json
from contextlib import AbstractContextManager, nullcontext
from dataclasses import dataclass
from pathlib import Path
from threading import RLock

from flask import Flask, current_app
from flask_migrate import Migrate
from flask_sqlalchemy import SQLAlchemy
from sqlalchemy import Connection, Engine, event
from sqlalchemy.engine.interfaces import DBAPIConnection

from slabtide.config import config_of
from slabtide.store.tables import Base

MIGRATIONS = Path(__file__).with_name("migrations")
BUSY_TIMEOUT_S = 15
BEGIN_OPTION = "slabtide_begin"
ENGINES = "slabtide.engines"


@dataclass(frozen=True, slots=True)
class Engines:
    """One pool of connections, and the three ways a transaction begins on it.

    `turn` puts this process's writers in line. SQLite's own way of waiting is to sleep and look again, and
    who sleeps longest may be passed over for seconds; PostgreSQL waits in line by itself.
    """

    write: Engine
    read: Engine
    glance: Engine
    turn: AbstractContextManager[object]


db = SQLAlchemy(metadata=Base.metadata)
migrate = Migrate(directory=str(MIGRATIONS), render_as_batch=True, compare_type=True)


def init_app(app: Flask) -> None:
    """Open the engine named in the settings; on SQLite, make its folder and set its pragmas."""
    config = config_of(app)
    app.config["SQLALCHEMY_DATABASE_URI"] = config.database_url
    app.config["SQLALCHEMY_ENGINE_OPTIONS"] = _engine_options(config.database_url, config.threads)
    if config.database_url.startswith("sqlite"):
        config.home.mkdir(mode=0o700, parents=True, exist_ok=True)
    db.init_app(app)
    migrate.init_app(app, db)
    with app.app_context():
        engine = db.engine
        app.extensions[ENGINES] = Engines(
            write=engine.execution_options(**{BEGIN_OPTION: "BEGIN IMMEDIATE"}),
            read=engine,
            glance=engine.execution_options(**{BEGIN_OPTION: ""}),
            turn=RLock() if engine.dialect.name == "sqlite" else nullcontext(),
        )
        if engine.dialect.name == "sqlite":
            _tune_sqlite(engine)


def engines() -> Engines:
    """The engines of the application at work."""
    found: Engines = current_app.extensions[ENGINES]
    return found


def dispose(app: Flask) -> None:
    """Close every pooled connection of `app`."""
    with app.app_context():
        db.engine.dispose()


def _engine_options(url: str, threads: int) -> dict[str, object]:
    options: dict[str, object] = {
        "pool_size": threads + 2,
        "max_overflow": 16,
        "pool_timeout": 30,
        "json_serializer": json.JSONEncoder(separators=(",", ":"), allow_nan=False).encode,
    }
    if url.startswith("sqlite"):
        # None: the driver starts no transaction by itself; `_begin` says which kind it is to be.
        options["connect_args"] = {"timeout": BUSY_TIMEOUT_S, "isolation_level": None}
    else:
        options["pool_pre_ping"] = True
    return options


def _tune_sqlite(engine: Engine) -> None:
    @event.listens_for(engine, "connect")
    def _connected(connection: DBAPIConnection, record: object) -> None:
        cursor = connection.cursor()
        cursor.execute("PRAGMA journal_mode=WAL")
        # A phone forgets an event once we have answered for it, so a commit has to survive loss of power.
        cursor.execute("PRAGMA synchronous=FULL")
        cursor.execute("PRAGMA foreign_keys=ON")
        cursor.close()

    @event.listens_for(engine, "begin")
    def _begin(connection: Connection) -> None:
        if begin := connection.get_execution_options().get(BEGIN_OPTION, "BEGIN"):
            connection.exec_driver_sql(begin)
