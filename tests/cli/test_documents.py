"""The record and the export from the command line."""

import zipfile
from collections.abc import Callable
from pathlib import Path

from flask.testing import FlaskClient
from tests.cli.test_commands import done, slabtide
from tests.conftest import Joined, Syncs
from tests.office.exports.test_export import record_all
from tests.office.record.reading import text_of

Join = Callable[..., Joined]


def test_the_record_from_the_command_line_is_the_servers_own(
    home: Path, client: FlaskClient, sync: Syncs, join: Join, job: str, tmp_path: Path
) -> None:
    who, target = join("foreman", name="Ana"), tmp_path / "out.pdf"
    record_all(sync, who, job)
    told = done(home, "record", "--job", job, "--for", "file", "--units", "metric", "-o", str(target))
    assert told.startswith(f"{target}: 0.0")
    served = client.get(f"/api/jobs/{job}/record.pdf?for=file&units=metric", headers=who.headers).data
    assert target.read_bytes() == served
    assert "KB-77" in text_of(served)


def test_the_export_from_the_command_line_holds_every_entry(
    home: Path, sync: Syncs, join: Join, job: str, tmp_path: Path
) -> None:
    made = record_all(sync, join("foreman"), job)
    done(home, "export", str(tmp_path / "all.zip"))
    with zipfile.ZipFile(tmp_path / "all.zip") as found:
        assert found.testzip() is None
        assert found.read("events.jsonl").count(b"\n") == len(made)


def test_what_can_not_be_written_is_said_and_leaves_nothing_behind(
    home: Path, join: Join, tmp_path: Path
) -> None:
    join("foreman")
    for arguments in (("record", "--job", "nope", "-o"), ("export",)):
        target = tmp_path / "missing" / "out"
        result = slabtide(home, *arguments, str(target))
        assert result.returncode == 1
        assert result.stderr.startswith("slabtide: ")
        assert "Traceback" not in result.stderr
    assert list(tmp_path.glob("**/out*")) == []
