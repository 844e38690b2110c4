"""How a migration runs: on the engine of the application at work, against the tables in code."""

from __future__ import annotations

from alembic import context

from slabtide.store import learned_tables  # noqa: F401  (its tables belong to Base too)
from slabtide.store.database import db
from slabtide.store.tables import Base


def run() -> None:
    """Run the wanted migrations in one transaction."""
    with db.engine.connect() as connection:
        context.configure(
            connection=connection,
            target_metadata=Base.metadata,
            render_as_batch=True,
            compare_type=True,
            user_module_prefix="types.",
        )
        with context.begin_transaction():
            context.run_migrations()
        connection.commit()


run()
