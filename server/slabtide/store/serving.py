"""Whether a server is at work on a home folder: what a restore has to know before it changes the files."""

from __future__ import annotations

import fcntl
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path


class InUseError(RuntimeError):
    """The home folder is held in a way that does not go with what was asked."""


@contextmanager
def at_work(home: Path) -> Iterator[None]:
    """Hold `home` as a server does: any number at once, none while a restore runs."""
    with _held(home, fcntl.LOCK_SH, "A restore is running here. Start the server when it is done."):
        yield


@contextmanager
def alone(home: Path) -> Iterator[None]:
    """Hold `home` alone. Raises `InUseError` while a server runs on it."""
    with _held(home, fcntl.LOCK_EX, "A server is running on this home. Stop it, then restore."):
        yield


@contextmanager
def _held(home: Path, kind: int, refusal: str) -> Iterator[None]:
    home.mkdir(parents=True, exist_ok=True)
    with (home / "serving.lock").open("w") as file:
        try:
            fcntl.flock(file, kind | fcntl.LOCK_NB)
        except BlockingIOError:
            raise InUseError(refusal) from None
        yield
