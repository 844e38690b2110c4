"""A loose floor under the speed of sync, to see a slip by an order of magnitude. Prints the figures."""

from __future__ import annotations

import gzip
import http.client
import json
import time
from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from tests.sync.serving import Server

Join = Callable[..., Any]
EVENTS, BATCH = 10_000, 1000
FLOOR_UP, FLOOR_DOWN = 3_000, 10_000


def call(connection: http.client.HTTPConnection, token: str, body: dict[str, Any]) -> dict[str, Any]:
    headers = {
        "Authorization": f"Bearer {token}",
        "Content-Type": "application/json",
        "Content-Encoding": "gzip",
        "Accept-Encoding": "gzip",
    }
    connection.request("POST", "/api/sync", gzip.compress(json.dumps(body).encode(), 1), headers)
    answer = connection.getresponse()
    data = answer.read()
    assert answer.status == 200, data
    found: dict[str, Any] = json.loads(
        gzip.decompress(data) if answer.headers["Content-Encoding"] == "gzip" else data
    )
    return found


def test_ten_thousand_events_up_and_down_stay_above_the_floor(
    app: Flask, home: Path, sync: Any, join: Join, job: str, capsys: pytest.CaptureFixture[str]
) -> None:
    ana, luis, server = join("foreman"), join("crew"), Server(home, SLABTIDE_TICK_SECONDS="3600")
    bodies = [
        ("item.ticked", {"list": "forms", "item": "stakes_tight", "subject": "", "done": True}),
        ("note.written", {"text": "Bay 3 tight at the north edge, fog lightly."}),
        ("weather.noted", {"air_temp_c": 21.5, "rh": 0.55, "wind_kmh": 12.0}),
    ]
    events = [sync.event(ana, job, *bodies[n % 3]) for n in range(EVENTS)]
    at = events[0]["at"]
    server.start()
    connection = http.client.HTTPConnection("127.0.0.1", server.port, timeout=30)
    try:
        begun = time.perf_counter()
        for start in range(0, EVENTS, BATCH):
            body = {"cursor": 0, "events": events[start : start + BATCH], "device_time": at}
            assert len(call(connection, ana.token, body)["accepted"]) == BATCH
        up = EVENTS / (time.perf_counter() - begun)
        begun, cursor, got, more = time.perf_counter(), 0, 0, True
        while more:
            answer = call(connection, luis.token, {"cursor": cursor, "events": [], "device_time": at})
            cursor, more, got = answer["cursor"], answer["more"], got + len(answer["events"])
        down = EVENTS / (time.perf_counter() - begun)
    finally:
        connection.close()
        server.stop()
    assert got == EVENTS
    with capsys.disabled():
        print(f"\nsync alone: {up:,.0f} events/s up, {down:,.0f} events/s down")
    assert up > FLOOR_UP
    assert down > FLOOR_DOWN
