"""Commands that look after an installation: migrate, keys, backup, restore."""

from __future__ import annotations

from argparse import Namespace
from datetime import UTC, datetime
from pathlib import Path

from slabtide.app import create_app
from slabtide.cli.telling import in_words, say
from slabtide.config import Config, config_of
from slabtide.reminders.keys import make_key, public_key
from slabtide.store import backup as keeping
from slabtide.store import database, migrated
from slabtide.store.serving import alone


@in_words
def migrate(wanted: Namespace) -> int:
    """Bring the database to the version of the code."""
    app = create_app(check_database=False)
    before = migrated.current(app)
    migrated.upgrade(app)
    database.dispose(app)
    after = migrated.head()
    print(f"The database is at version {after}." if before == after else f"Migrated to version {after}.")
    return 0


@in_words
def keys(wanted: Namespace) -> int:
    """Make the push key, or say that it is there."""
    file = Config.from_environment().vapid_key_file
    known = file.exists()
    key = make_key(file)
    print(
        f"{'The key is already there' if known else 'Made a key'}: {file}",
        f"Public: {public_key(key)}",
        sep="\n",
    )
    return 0


@in_words
def backup(wanted: Namespace) -> int:
    """Write a backup."""
    app = create_app()
    target = Path(wanted.file)
    keeping.backup(app, target)
    database.dispose(app)
    print(f"{target}: {target.stat().st_size / 1e6:.1f} MB. It holds the push key: keep it private.")
    return 0


@in_words
def restore(wanted: Namespace) -> int:
    """Put a backup in place."""
    app = create_app(check_database=False)
    with alone(config_of(app).home):
        done = keeping.restore(app, Path(wanted.file), datetime.now(UTC))
        database.dispose(app)
    print(f"Restored; the log's epoch is now {done.epoch}.")
    say(
        f"What was here before is kept in {done.replaced}.",
        "Phones send what came after the backup again by themselves.",
        "A device that was signed out after the backup is let in again: look through the devices.",
    )
    return 0
