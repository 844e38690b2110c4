"""Homes that are made once for all processes of a run, and copied for each server that is to have one."""

import fcntl
import json
import os
import shutil
from collections.abc import Callable
from dataclasses import dataclass
from pathlib import Path
from typing import Any

import pytest
from tests.browser.serving import Person, Server

Make = Callable[[Server], dict[str, Any]]


@dataclass(frozen=True)
class Home:
    """A home folder whose server is stopped, the answer its owner joined by, and what its maker told."""

    folder: Path
    owner: dict[str, Any]
    told: dict[str, Any]

    def serve(self, folder: Path) -> Server:
        """A server over a copy of this home in `folder`, started."""
        shutil.copytree(self.folder, folder)
        running = Server(folder)
        running.start()
        running.take_owner(Person(running, self.owner["token"], self.owner))
        return running


def made_once(factory: pytest.TempPathFactory, name: str, make: Make) -> Home:
    """What the first process of this run to ask made: migrated, with its key, then as `make` left it."""
    base = factory.getbasetemp()
    # Each process has a folder of its own within the run's.
    folder = (base.parent if "PYTEST_XDIST_WORKER" in os.environ else base) / name
    note = folder.with_suffix(".json")
    with folder.with_suffix(".lock").open("w") as lock:
        fcntl.flock(lock, fcntl.LOCK_EX)
        if not note.exists():
            shutil.rmtree(folder, ignore_errors=True)
            folder.mkdir()
            made = Server(folder)
            made.command("migrate")
            made.command("keys")
            made.start()
            try:
                told = make(made)
                answer = made.owner().answer
            finally:
                made.stop()
            note.write_text(json.dumps({"owner": answer, "told": told}))
    return Home(folder, **json.loads(note.read_text()))
