"""SIGKILL in mid-push: what was answered for is there afterwards, once, and the numbers have no gap."""

from __future__ import annotations

import http.client
import random
import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from tests.sync.serving import Server

Join = Callable[..., Any]
KILLS = 10
SEED = 20260714


@pytest.fixture
def server(app: Flask, home: Path) -> Iterator[Server]:
    made = Server(home)
    yield made
    if made.process and made.process.poll() is None:
        made.stop()


def push(server: Server, sync: Any, who: Any, job: str, answered: list[str], sent: list[Any]) -> None:
    """Push batches of 50 until the server dies."""
    while True:
        batch = [sync.event(who, job, "note.written", {"text": "x" * 40}) for _ in range(50)]
        sent += batch
        call = {"cursor": 10**9, "events": batch, "device_time": batch[0]["at"]}
        try:
            status, answer = server.call("POST", "/api/sync", call, who.token)
        except (OSError, http.client.HTTPException, ValueError):
            return
        assert status == 200
        answered += answer["accepted"]


def test_no_answered_event_is_lost_and_none_is_doubled_over_ten_kills(
    server: Server, sync: Any, join: Join, job: str
) -> None:
    chance = random.Random(SEED)
    phones = [join("crew"), join("foreman")]
    answered: list[str] = []
    sent: dict[str, list[Any]] = {phone.device: [] for phone in phones}
    for _ in range(KILLS):
        server.start()
        pushing = [
            threading.Thread(target=push, args=(server, sync, phone, job, answered, sent[phone.device]))
            for phone in phones
        ]
        for thread in pushing:
            thread.start()
        time.sleep(chance.uniform(0.02, 0.25))
        server.kill()
        for thread in pushing:
            thread.join()
    server.start()
    stored = everything(server, phones[0].token)
    ids = [event["id"] for event in stored]
    assert set(answered) <= set(ids)
    assert [event["seq"] for event in stored] == list(range(1, len(stored) + 1))
    for phone in phones:  # the phone offers again what it got no answer for
        for start in range(0, len(sent[phone.device]), 500):
            batch = sent[phone.device][start : start + 500]
            call = {"cursor": 0, "events": batch, "device_time": batch[0]["at"]}
            assert len(server.call("POST", "/api/sync", call, phone.token)[1]["accepted"]) == len(batch)
    ids = [event["id"] for event in everything(server, phones[0].token)]
    assert sorted(ids) == sorted(event["id"] for events in sent.values() for event in events)
    assert len(answered) > 0
    assert server.stop() == 0


def everything(server: Server, token: str) -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = []
    cursor, more = 0, True
    while more:
        call = {"cursor": cursor, "events": [], "own": True, "device_time": "2026-07-14T13:05:00.000Z"}
        answer = server.call("POST", "/api/sync", call, token)[1]
        found += answer["events"]
        cursor, more = answer["cursor"], answer["more"]
    return found


def test_a_backup_taken_while_phones_push_holds_all_that_was_answered_before_it_began(
    server: Server, sync: Any, join: Join, job: str, app: Flask, tmp_path: Path
) -> None:
    import sqlite3
    import tarfile
    from contextlib import closing

    from slabtide.store.backup import backup

    server.start()
    answered: list[str] = []
    pushing = threading.Thread(target=push, args=(server, sync, join("crew"), job, answered, []))
    pushing.start()
    for n in range(4):
        time.sleep(0.2)
        before = set(answered)
        backup(app, tmp_path / f"{n}.tar")
        with tarfile.open(tmp_path / f"{n}.tar") as tar:
            packed = tar.extractfile("slabtide.db")
            assert packed is not None
            (tmp_path / str(n)).mkdir()
            (tmp_path / str(n) / "slabtide.db").write_bytes(packed.read())
        with closing(sqlite3.connect(tmp_path / str(n) / "slabtide.db")) as connection:
            assert connection.execute("PRAGMA integrity_check").fetchall() == [("ok",)]
            assert before <= {row[0] for row in connection.execute("SELECT id FROM event")}
    server.kill()
    pushing.join()
    assert len(answered) > 100
