"""The engine's own answer to the sample pour, pinned: numbers our code made, no source vouches for them.

They are here so that a change of answer is seen, and so that every machine gives the same to the second. When
a model changes on purpose, write them anew from the same two calls and say why in the change.
"""

import json
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any

from slabtide.engine import forecast
from slabtide.engine.contract import default_at, read_pour, write_timeline

HERE = Path(__file__).parent
SAMPLE = HERE.parent / "engine" / "samples" / "two_loads.json"


def answer() -> dict[str, Any]:
    pour = read_pour(json.loads(SAMPLE.read_text(encoding="utf-8")))
    data: dict[str, Any] = write_timeline(forecast(pour, default_at(pour)))
    windows = {load["id"]: load["windows"] for load in data["loads"]}
    curve = {load["id"]: load["curve"][::96] for load in data["loads"]}
    return {"windows": windows, "slots": data["slots"], "warnings": data["warnings"], "curve": curve}


def pinned() -> dict[str, Any]:
    told: dict[str, Any] = json.loads((HERE / "two_loads.json").read_text(encoding="utf-8"))
    return told


def test_windows_slots_and_notices_are_the_pinned_ones_to_the_second() -> None:
    ours, told = answer(), pinned()
    for part in ("windows", "slots", "warnings"):
        assert ours[part] == told[part]


def test_the_curves_are_the_pinned_ones() -> None:
    assert answer()["curve"] == pinned()["curve"]


def test_the_sample_tells_a_day_a_finisher_would_know() -> None:
    windows = answer()["windows"]["1"]
    struck_off = datetime.fromisoformat("2026-06-04T07:30:00-05:00")
    opens = datetime.fromisoformat(windows["texture"]["opens"]["likely"])
    assert timedelta(hours=1) < opens - struck_off < timedelta(hours=3)
