"""One process against the server: events up and down, and a call without news beside an empty route."""

import json
import statistics
import subprocess
import sys
import time
import uuid
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from scripts.benches.many_phones.wire import Wire, as_asked
from scripts.demo.phone import event_id, instant
from tests.browser.serving import Person, Server, free_port

BATCH, CALLS = 1000, 400
# The same web server with the same settings, and a route that does nothing.
BARE = """
import sys
from flask import Flask
from waitress.server import create_server
app = Flask("bare", static_folder=None)
app.add_url_rule("/api/sync", "empty", lambda: "{}", methods=["POST"])
create_server(app, host="127.0.0.1", port=int(sys.argv[1]), threads=int(sys.argv[2]), asyncore_use_poll=True,
              ident=None).run()
"""
BODIES = (
    ("item.ticked", {"list": "forms", "item": "stakes_tight", "subject": "", "done": True}),
    ("note.written", {"text": "Bay 3 tight at the north edge, fog lightly."}),
    ("weather.noted", {"air_temp_c": 21.5, "rh": 0.55, "wind_kmh": 12.0}),
)


@dataclass(frozen=True)
class Beside:
    """Medians over the rounds: a call without news, the empty route; and the second's share in the first."""

    sync_ms: float
    bare_ms: float
    share: float


def events_of(who: Person, job: str, count: int) -> list[dict[str, Any]]:
    """Entries of one person's phone, a second apart, the last one now."""
    device, person = who.answer["device"]["id"], who.answer["person"]["id"]
    now, found = datetime.now(UTC), []
    for number in range(count):
        at = now - timedelta(seconds=count - number)
        kind, body = BODIES[number % len(BODIES)]
        found.append(
            {
                "id": event_id(at, f"{device}{number}"),
                "job": job,
                "kind": kind,
                "body": body,
                "at": instant(at),
                "clock": f"{int(at.timestamp() * 1000):015d}-{number % 65536:04x}-{device}",
                "device": device,
                "author": person,
                "raw_at": None,
            }
        )
    return found


def up_and_down(server: Server, count: int) -> tuple[float, float]:
    """Events a second from one phone to the server, then down to a second one."""
    ana, luis, wire = server.enrol("foreman", "Ana"), server.enrol("crew", "Luis"), Wire(server.port)
    events, at = events_of(ana, str(uuid.uuid4()), count), instant(datetime.now(UTC))
    begun = time.perf_counter()
    for start in range(0, count, BATCH):
        body = {"cursor": 0, "events": events[start : start + BATCH], "device_time": at}
        assert len(wire.call("/api/sync", body, ana.token)["accepted"]) == len(body["events"])
    up = count / (time.perf_counter() - begun)
    begun, cursor, got, more = time.perf_counter(), 0, 0, True
    while more:
        answer = wire.call("/api/sync", {"cursor": cursor, "events": [], "device_time": at}, luis.token)
        cursor, more, got = answer["cursor"], answer["more"], got + len(answer["events"])
    down = count / (time.perf_counter() - begun)
    assert got == count, got
    wire.close()
    return up, down


def bare_beside(server: Server, rounds: int) -> Beside:
    """A call without news and an empty route, in turns, so that both meet the machine as busy as it is."""
    who = server.enrol("crew", "Luis")
    body = {"cursor": 0, "events": [], "device_time": instant(datetime.now(UTC)), "unsent": 0}
    wanted = as_asked("/api/sync", json.dumps(body).encode(), who.token)
    with empty_route() as bare_port:
        sync_wire, bare_wire = Wire(server.port), Wire(bare_port)
        for wire in (sync_wire, bare_wire):
            timed(wire, wanted)
        pairs = [(timed(sync_wire, wanted), timed(bare_wire, wanted)) for _ in range(rounds)]
        sync_wire.close()
        bare_wire.close()
    sync_s, bare_s = (statistics.median(each) for each in zip(*pairs, strict=True))
    return Beside(sync_s / CALLS * 1000, bare_s / CALLS * 1000, statistics.median(b / s for s, b in pairs))


def timed(wire: Wire, request: bytes) -> float:
    """Seconds for so many calls, one after the other."""
    begun = time.perf_counter()
    for _ in range(CALLS):
        wire.ask(request)
    return time.perf_counter() - begun


@contextmanager
def empty_route() -> Iterator[int]:
    """The port of a server whose one route does nothing."""
    port = free_port()
    process = subprocess.Popen([sys.executable, "-c", BARE, str(port), "8"])
    try:
        until_open(port)
        yield port
    finally:
        process.terminate()
        process.wait(timeout=20)


def until_open(port: int) -> None:
    """Waits until something listens."""
    deadline = time.monotonic() + 20
    while True:
        try:
            Wire(port).close()
        except OSError:
            if time.monotonic() > deadline:
                raise
            time.sleep(0.05)
        else:
            return
