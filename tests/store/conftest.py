"""PostgreSQL for the tests that need it: a cluster of its own, gone afterwards.

Where PostgreSQL's programs or its driver are not installed those tests are not collected.
"""

from __future__ import annotations

import importlib.util
import os
import shutil
import subprocess
import tempfile
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

import pytest

PROGRAMS = ("initdb", "pg_ctl", "createdb")
HERE = all(shutil.which(name) for name in PROGRAMS) and importlib.util.find_spec("psycopg") is not None
collect_ignore = [] if HERE else ["test_postgresql.py"]
# PostgreSQL refuses to run as root.
USER = "nobody" if os.geteuid() == 0 else None


def run(*command: str | Path) -> None:
    """One of PostgreSQL's programs. Its output goes to a file: a server it starts would hold a pipe open."""
    with tempfile.TemporaryFile("w+") as said:
        done = subprocess.run(command, stdout=said, stderr=said, user=USER, cwd="/", timeout=60)
        said.seek(0)
        assert done.returncode == 0, said.read()


@pytest.fixture(scope="session")
def postgresql_url() -> Iterator[str]:
    with cluster() as url:
        yield url


@contextmanager
def cluster() -> Iterator[str]:
    """The address of an empty PostgreSQL database that listens on a socket in its own folder."""
    folder = Path(tempfile.mkdtemp(prefix="slabtide-pg-"))
    if USER:
        shutil.chown(folder, USER)
    data, options = folder / "data", f"-c listen_addresses= -k {folder}"
    try:
        run("initdb", "-D", data, "-U", "slabtide", "-A", "trust", "-E", "UTF8", "--no-sync")
        run("pg_ctl", "-D", data, "-w", "-o", options, "-l", folder / "log", "start")
        try:
            run("createdb", "-h", folder, "-U", "slabtide", "slabtide")
            yield f"postgresql+psycopg://slabtide@/slabtide?host={folder}"
        finally:
            run("pg_ctl", "-D", data, "-m", "immediate", "stop")
    finally:
        shutil.rmtree(folder)
