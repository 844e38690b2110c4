"""Whether the database is at the version this code was written for, and how to bring it there."""

from __future__ import annotations

import flask_migrate
from alembic.config import Config as AlembicConfig
from alembic.runtime.migration import MigrationContext
from alembic.script import ScriptDirectory
from flask import Flask

from slabtide.store import meta
from slabtide.store.database import MIGRATIONS, db


class NotMigratedError(RuntimeError):
    """The database is older or newer than the code; the message says what to run."""


def head() -> str:
    """The version this code was written for."""
    config = AlembicConfig()
    config.set_main_option("script_location", str(MIGRATIONS))
    found = ScriptDirectory.from_config(config).get_current_head()
    if found is None:
        raise RuntimeError(f"no migrations in {MIGRATIONS}")
    return found


def current(app: Flask) -> str | None:
    """The version the database is at; None for an empty one."""
    with app.app_context(), db.engine.connect() as connection:
        return MigrationContext.configure(connection).get_current_revision()


def require(app: Flask) -> None:
    """Raise `NotMigratedError` unless the database is at `head()`."""
    found, wanted = current(app), head()
    if found == wanted:
        return
    state = "is empty" if found is None else f"is at version {found}, this program wants {wanted}"
    raise NotMigratedError(f"The database {state}. Run `slabtide migrate`, then start again.")


def upgrade(app: Flask) -> None:
    """Bring the database to `head()` and make what an installation needs one of. Safe to repeat."""
    with app.app_context():
        flask_migrate.upgrade()
        meta.make_once()
