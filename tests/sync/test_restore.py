"""A server put back from a backup: the phones bring back what it lost, by themselves, once each."""

from __future__ import annotations

import tarfile
from collections.abc import Callable
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from slabtide.people import invites
from slabtide.store.backup import BackupError, backup, restore
from slabtide.store.serving import InUseError, alone, at_work

Join = Callable[..., Any]


def notes(sync: Any, who: Any, job: str, count: int) -> list[dict[str, Any]]:
    return [sync.event(who, job, "note.written", {"text": f"{who.name} {n}"}) for n in range(count)]


def test_what_came_after_the_backup_returns_without_loss_or_double(
    app: Flask, sync: Any, join: Join, job: str, tmp_path: Path
) -> None:
    phones = [join("crew") for _ in range(5)]
    kept = {phone.device: notes(sync, phone, job, 200) for phone in phones}
    for phone in phones:
        sync(phone, *kept[phone.device][:100])
    before = sync(phones[0])["epoch"]
    backup(app, tmp_path / "day.tar")
    for phone in phones:
        sync(phone, *kept[phone.device][100:])

    done = restore(app, tmp_path / "day.tar", datetime.now(UTC))
    assert done.epoch != before
    for phone in phones:
        answer = sync(phone)
        assert answer["epoch"] == done.epoch, "this is what tells a phone to offer its own events again"
        assert len(sync(phone, *kept[phone.device])["accepted"]) == 200

    got = [event["id"] for event in every_event(sync, phones[0])]
    sent = [event["id"] for events in kept.values() for event in events]
    assert sorted(got) == sorted(sent)


def every_event(sync: Any, who: Any) -> list[dict[str, Any]]:
    return list(sync.offer(who, [], cursor=0, own=True).get_json()["events"])


def test_a_cursor_from_before_the_restore_does_no_harm(
    app: Flask, sync: Any, join: Join, job: str, tmp_path: Path
) -> None:
    ana, luis = join("crew"), join("crew")
    backup(app, tmp_path / "day.tar")
    sync(ana, *notes(sync, ana, job, 10))
    assert sync(luis)["cursor"] == 10
    restore(app, tmp_path / "day.tar", datetime.now(UTC))
    answer = sync(luis)
    assert (answer["events"], answer["cursor"]) == ([], 0)


def test_what_was_here_before_is_kept_aside(
    app: Flask, sync: Any, join: Join, job: str, tmp_path: Path
) -> None:
    ana = join("crew")
    backup(app, tmp_path / "day.tar")
    sync(ana, *notes(sync, ana, job, 3))
    done = restore(app, tmp_path / "day.tar", datetime.now(UTC))
    assert (done.replaced / "slabtide.db").stat().st_size > 0


def test_a_code_from_before_the_backup_is_good_for_nothing_after(
    app: Flask, client: FlaskClient, company: str, tmp_path: Path
) -> None:
    with app.app_context():
        made = invites.invite(company, "crew", now=datetime.now(UTC), minutes=10)
    backup(app, tmp_path / "day.tar")
    restore(app, tmp_path / "day.tar", datetime.now(UTC))
    body = {"code": made.code, "person_name": "Luis", "device_name": "phone"}
    assert client.post("/api/join", json=body).status_code == 404


def test_a_backup_is_for_its_owner_alone_and_overwrites_nothing(app: Flask, tmp_path: Path) -> None:
    file = tmp_path / "day.tar"
    backup(app, file)
    assert file.stat().st_mode & 0o777 == 0o600
    with pytest.raises(BackupError, match="there already"):
        backup(app, file)
    assert [path.name for path in tmp_path.glob(".*")] == []


@pytest.mark.parametrize("data", [b"", b"not a tar", b"\0" * 10240])
def test_what_is_no_backup_changes_nothing(
    app: Flask, client: FlaskClient, tmp_path: Path, data: bytes
) -> None:
    before = client.get("/api/health").get_json()["epoch"]
    (tmp_path / "x.tar").write_bytes(data)
    with pytest.raises(BackupError):
        restore(app, tmp_path / "x.tar", datetime.now(UTC))
    assert client.get("/api/health").get_json()["epoch"] == before


@pytest.mark.parametrize("name", ["../outside", "/outside", "photos/../../outside"])
def test_a_backup_writes_nothing_outside_its_own_folder(app: Flask, tmp_path: Path, name: str) -> None:
    with tarfile.open(tmp_path / "x.tar", "w") as tar:
        tar.addfile(tarfile.TarInfo(name))
    with pytest.raises(BackupError, match="does not belong"):
        restore(app, tmp_path / "x.tar", datetime.now(UTC))


def test_a_link_in_a_backup_is_refused(app: Flask, tmp_path: Path) -> None:
    link = tarfile.TarInfo("photos")
    link.type, link.linkname = tarfile.SYMTYPE, "/"
    with tarfile.open(tmp_path / "x.tar", "w") as tar:
        tar.addfile(link)
    with pytest.raises(BackupError, match="does not belong"):
        restore(app, tmp_path / "x.tar", datetime.now(UTC))


def test_a_damaged_database_in_a_backup_is_found_before_anything_is_replaced(
    app: Flask, client: FlaskClient, tmp_path: Path
) -> None:
    before = client.get("/api/health").get_json()["epoch"]
    backup(app, tmp_path / "day.tar")
    data = bytearray((tmp_path / "day.tar").read_bytes())
    data[4096:60_000] = b"\xa5" * (60_000 - 4096)
    (tmp_path / "day.tar").write_bytes(data)
    with pytest.raises(BackupError, match="damaged"):
        restore(app, tmp_path / "day.tar", datetime.now(UTC))
    assert client.get("/api/health").get_json()["epoch"] == before


def test_a_restore_waits_for_no_server_and_refuses_beside_one(tmp_path: Path) -> None:
    with at_work(tmp_path), at_work(tmp_path), pytest.raises(InUseError, match="Stop it"), alone(tmp_path):
        pass
    with alone(tmp_path), pytest.raises(InUseError, match="restore is running"), at_work(tmp_path):
        pass
