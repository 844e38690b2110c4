"""The command line as someone who runs a server meets it."""

from __future__ import annotations

import io
import json
import os
import subprocess
import sys
import uuid
from collections.abc import Callable
from contextlib import redirect_stderr, redirect_stdout
from pathlib import Path
from unittest.mock import patch

import pytest
from tests.sync.serving import Server

from slabtide.cli import main
from slabtide.log import generate

Run = Callable[..., subprocess.CompletedProcess[str]]


@pytest.fixture
def fresh(tmp_path: Path) -> Path:
    """A home nobody has touched."""
    return tmp_path / "home"


def slabtide(home: Path, *arguments: str, **settings: str) -> subprocess.CompletedProcess[str]:
    clean = {name: value for name, value in os.environ.items() if not name.startswith("SLABTIDE_")}
    environment = clean | {"SLABTIDE_HOME": str(home)} | settings
    command = [sys.executable, "-m", "slabtide.cli", *arguments]
    return subprocess.run(command, env=environment, capture_output=True, text=True, timeout=60)


def here(home: Path, *arguments: str) -> subprocess.CompletedProcess[str]:
    """The same within this process, for what needs none of its own: its start would be most of the time."""
    clean = {name: value for name, value in os.environ.items() if not name.startswith("SLABTIDE_")}
    said, wrong = io.StringIO(), io.StringIO()
    mask = os.umask(0o077)
    with (
        patch.dict(os.environ, clean | {"SLABTIDE_HOME": str(home)}, clear=True),
        redirect_stdout(said),
        redirect_stderr(wrong),
    ):
        try:
            status = main(arguments)
        except SystemExit as ended:  # as the interpreter takes it: a number, or words for a 1
            status = ended.code if isinstance(ended.code, int) else 1
            wrong.write("" if isinstance(ended.code, int) else f"{ended.code}\n")
        finally:
            os.umask(mask)
    return subprocess.CompletedProcess(arguments, status, said.getvalue(), wrong.getvalue())


def done(home: Path, *arguments: str, run: Run = here) -> str:
    result = run(home, *arguments)
    assert result.returncode == 0, result.stderr
    return result.stdout


def test_an_installation_from_nothing_to_the_first_phone(fresh: Path) -> None:
    """As on a machine of its own: each command a process."""
    done(fresh, "migrate", run=slabtide)
    made = done(fresh, "company", "create", "Harbor Flatwork", run=slabtide).split()
    assert uuid.UUID(made[-1])
    invited = json.loads(done(fresh, "invite", "--role", "foreman", "--json", run=slabtide))
    server = Server(fresh)
    server.start()
    body = {"code": invited["code"], "person_name": "Ana", "device_name": "phone", "language": "en"}
    status, joined = server.call("POST", "/api/join", body)
    assert (status, joined["role"], joined["company"]["name"]) == (201, "foreman", "Harbor Flatwork")
    assert server.stop() == 0


def test_a_server_does_not_start_on_a_database_that_is_not_migrated(fresh: Path) -> None:
    result = slabtide(fresh, "serve")
    assert result.returncode == 1
    assert "slabtide migrate" in result.stderr
    assert "Traceback" not in result.stderr


def test_what_the_command_makes_is_its_owners_alone(fresh: Path) -> None:
    done(fresh, "migrate", run=slabtide)
    assert fresh.stat().st_mode & 0o777 == 0o700
    assert (fresh / "slabtide.db").stat().st_mode & 0o777 == 0o600


def test_migrating_twice_keeps_the_epoch(home: Path) -> None:
    before = (home / "slabtide.db").read_bytes()
    assert "is at version" in done(home, "migrate")
    assert (home / "slabtide.db").read_bytes() == before


def test_the_push_key_is_made_once_and_is_its_owners_alone(fresh: Path) -> None:
    first = done(fresh, "keys")
    key = (fresh / "keys" / "vapid.pem").read_bytes()
    assert (fresh / "keys" / "vapid.pem").stat().st_mode & 0o777 == 0o600
    assert done(fresh, "keys").splitlines()[-1] == first.splitlines()[-1]
    assert (fresh / "keys" / "vapid.pem").read_bytes() == key


def test_an_invite_without_a_company_or_for_one_of_two_says_what_to_do(home: Path) -> None:
    assert "company create" in here(home, "invite", "--role", "crew").stderr
    done(home, "company", "create", "One")
    done(home, "company", "create", "Two")
    result = here(home, "invite", "--role", "crew")
    assert result.returncode == 1
    assert "--company" in result.stderr
    said = done(home, "invite", "--role", "crew", "--company", "Two")
    assert "/#/join/" in said
    assert [line.split()[0] for line in done(home, "company", "list").splitlines()] == ["One", "Two"]


def test_a_backup_is_made_beside_a_running_server_and_restored_only_without_one(home: Path) -> None:
    server, file = Server(home), home.parent / "day.tar"
    server.start()
    epoch = server.call("GET", "/api/health")[1]["epoch"]
    done(home, "backup", str(file))
    refused = slabtide(home, "restore", str(file))
    assert (refused.returncode, "Stop it" in refused.stderr) == (1, True)
    server.stop()
    done(home, "restore", str(file))
    server.start()
    assert server.call("GET", "/api/health")[1]["epoch"] != epoch
    server.stop()


def test_a_server_that_is_told_to_stop_leaves_nothing_in_the_write_ahead_log(home: Path) -> None:
    server = Server(home)
    server.start()
    assert server.stop() == 0
    assert "Traceback" not in server.log()
    wal = home / "slabtide.db-wal"
    assert not wal.exists() or wal.stat().st_size == 0


def test_a_taken_port_is_said_in_words(home: Path) -> None:
    server = Server(home)
    server.start()
    result = slabtide(home, "serve", SLABTIDE_PORT=str(server.port))
    server.stop()
    assert result.returncode == 1
    assert str(server.port) in result.stderr
    assert "Traceback" not in result.stderr


def test_the_generated_files_are_printed_as_they_are_committed(fresh: Path) -> None:
    assert done(fresh, "kinds", "--typescript") == generate.TYPESCRIPT_FILE.read_text()
    assert done(fresh, "kinds", "--json-schema") == generate.SCHEMA_FILE.read_text()
    assert done(fresh, "kinds", "--lists") == generate.LISTS_FILE.read_text()


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("--job", "x"), "no job's id"),
        (("--job", str(uuid.uuid4()), "--shift-to", "soon"), "--shift-to"),
        (("--job", str(uuid.uuid4()), "--like", "02-30"), "--like"),
        (("--job", str(uuid.uuid4())), "can't be read"),
    ],
)
def test_weather_that_can_not_be_loaded_is_refused_in_words(
    home: Path, arguments: tuple[str, ...], said: str
) -> None:
    result = here(home, "weather", "load", "/no/such/file", *arguments)
    assert result.returncode == 1
    assert said in result.stderr
    assert "Traceback" not in result.stderr


def test_a_reader_that_has_seen_enough_does_no_harm(fresh: Path) -> None:
    command = f"{sys.executable} -m slabtide.cli kinds --typescript | head -1"
    result = subprocess.run(command, shell=True, capture_output=True, text=True)
    assert (result.stderr, len(result.stdout.splitlines())) == ("", 1)


def test_no_command_and_an_unknown_one_show_how_to_use_it(fresh: Path) -> None:
    for arguments in ((), ("pour",)):
        result = here(fresh, *arguments)
        assert (result.returncode, "usage: slabtide" in result.stderr) == (2, True)
