"""Backup of a running installation into one file, and back.

A backup is a tar file with the database (one consistent state, by `VACUUM INTO`), the photos and the push
key. Copying the database file instead would leave out what its write-ahead log holds.
"""

from __future__ import annotations

import os
import shutil
import sqlite3
import tarfile
import tempfile
from contextlib import closing
from dataclasses import dataclass
from datetime import datetime
from pathlib import Path

from flask import Flask
from sqlalchemy import delete

from slabtide.config import Config, config_of
from slabtide.store import meta, migrated
from slabtide.store.database import db
from slabtide.store.session import write
from slabtide.store.tables import Invite

DATABASE = "slabtide.db"
PHOTOS = "photos"
KEYS = "keys"


class BackupError(RuntimeError):
    """A backup can't be made or can't be used; the message says what to do."""


@dataclass(frozen=True, slots=True)
class Restored:
    """What a restore did: the new epoch, and where the files lie that it took the place of."""

    epoch: str
    replaced: Path


def backup(app: Flask, target: Path) -> None:
    """Write a backup of `app`'s home to `target`, whole or not at all; the server may go on working.

    The file holds every photo and the push key: keep it as private as the server. Raises `BackupError`.
    """
    if target.exists():
        raise BackupError(f"{target} is there already. Choose another name, or move it away.")
    target.parent.mkdir(parents=True, exist_ok=True)
    config = config_of(app)
    with tempfile.TemporaryDirectory(dir=target.parent, prefix=".backup-") as folder:
        # The database first: whatever photo it names was on the disk before it did.
        copy = Path(folder) / DATABASE
        with closing(sqlite3.connect(_sqlite_file(app))) as source:
            source.execute("VACUUM INTO ?", (str(copy),))
        packed = Path(folder) / "backup.tar"
        with os.fdopen(os.open(packed, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as out:
            with tarfile.open(fileobj=out, mode="w") as tar:
                tar.add(copy, DATABASE)
                for name in (PHOTOS, KEYS):
                    if (config.home / name).is_dir():
                        tar.add(config.home / name, name, filter=_finished)
            out.flush()
            os.fsync(out.fileno())
        os.replace(packed, target)


def restore(app: Flask, source: Path, now: datetime) -> Restored:
    """Put the backup `source` in the place of `app`'s home, and start a new epoch.

    Nothing is deleted: what was there is moved to a folder of its own. Every phone offers its own events
    again at its next sync, so what came after the backup returns. Raises `BackupError`.
    """
    config, file = config_of(app), _sqlite_file(app)
    with tempfile.TemporaryDirectory(dir=config.home, prefix=".restore-") as folder:
        _unpack(source, Path(folder))
        _check(Path(folder) / DATABASE)
        replaced = config.home / f"replaced-{now:%Y%m%dT%H%M%SZ}"
        replaced.mkdir()
        with app.app_context():
            db.engine.dispose()
        for name in (file.name, f"{file.name}-wal", f"{file.name}-shm"):
            if (file.parent / name).exists():
                os.replace(file.parent / name, replaced / name)
        os.replace(Path(folder) / DATABASE, file)
        _put_keys(config, Path(folder), replaced)
        _add_photos(config, Path(folder))
    migrated.upgrade(app)
    with app.app_context(), write() as session:
        # A code that was spent after the backup would be good again.
        session.execute(delete(Invite).where(Invite.spent_at.is_(None)))
        return Restored(meta.new_epoch(session), replaced)


def _sqlite_file(app: Flask) -> Path:
    with app.app_context():
        url = db.engine.url
    if not url.drivername.startswith("sqlite") or not url.database:
        raise BackupError(f"The database is {url.drivername}: use its own tools (pg_dump, pg_restore).")
    return Path(url.database)


def _finished(entry: tarfile.TarInfo) -> tarfile.TarInfo | None:
    return None if entry.name.endswith(".part") else entry


def _take(tar: tarfile.TarFile, entry: tarfile.TarInfo, folder: Path) -> None:
    """One entry, when it is a plain file or folder that stays inside. tarfile's own filter for this is not
    in every Python 3.11."""
    target = (folder / entry.name).resolve()
    packed = tar.extractfile(entry) if entry.isfile() else None
    if not target.is_relative_to(folder.resolve()) or (packed is None and not entry.isdir()):
        raise BackupError(f"{entry.name} does not belong in a backup of Slabtide; nothing was restored.")
    if packed is None:
        target.mkdir(parents=True, exist_ok=True)
        return
    target.parent.mkdir(parents=True, exist_ok=True)
    with packed, target.open("wb") as file:
        shutil.copyfileobj(packed, file)
    target.chmod(entry.mode & 0o644 | 0o600)


def _unpack(source: Path, folder: Path) -> None:
    try:
        with tarfile.open(source, "r:") as tar:
            for entry in tar:
                _take(tar, entry, folder)
    except (OSError, tarfile.TarError) as problem:
        raise BackupError(f"{source} is no backup that can be read: {problem}") from None
    if not (folder / DATABASE).is_file():
        raise BackupError(f"{source} holds no {DATABASE}: it is not a backup of Slabtide.")


def _check(file: Path) -> None:
    try:
        with closing(sqlite3.connect(file)) as connection:
            [(verdict,)] = connection.execute("PRAGMA integrity_check(1)").fetchall()
            [(version,)] = connection.execute("SELECT version_num FROM alembic_version").fetchall()
    except (sqlite3.DatabaseError, ValueError) as problem:
        raise BackupError(f"The database in the backup is damaged: {problem}") from None
    if verdict != "ok":
        raise BackupError(f"The database in the backup is damaged: {verdict}")
    if version > migrated.head():
        raise BackupError(f"The backup is of a newer version ({version}). Update the program first.")


def _put_keys(config: Config, folder: Path, replaced: Path) -> None:
    if (folder / KEYS).is_dir():
        if (config.home / KEYS).is_dir():
            os.replace(config.home / KEYS, replaced / KEYS)
        shutil.move(folder / KEYS, config.home / KEYS)


def _add_photos(config: Config, folder: Path) -> None:
    if (folder / PHOTOS).is_dir():
        shutil.copytree(folder / PHOTOS, config.photo_dir, dirs_exist_ok=True)
