"""A device's clock only rises; the server's clamp changes what is too far ahead, and nothing else."""

import json
from pathlib import Path
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.log.clock import MAX_AHEAD_MS, Clock, clamp, read, write

VECTORS = Path(__file__).parents[1] / "vectors"
CLOCKS = json.loads((VECTORS / "clock.json").read_text())
CLAMPS = json.loads((VECTORS / "clamp.json").read_text())["cases"]
DEVICE = "00000000-0000-4000-8000-00000000000d"


@pytest.mark.parametrize("case", CLOCKS["cases"], ids=lambda case: case["name"])
def test_clock_steps_as_the_vector_says(case: dict[str, Any]) -> None:
    clock = Clock(case["device"])
    for step in case["steps"]:
        if "tick" in step:
            assert clock.tick(step["tick"]) == step["expect"]
        elif "receive" in step:
            clock.receive(step["receive"], step["wall"])
        else:
            clock.lower(*step["lower"])


@pytest.mark.parametrize("text", CLOCKS["malformed"])
def test_text_of_another_form_is_no_clock(text: str) -> None:
    with pytest.raises(ValueError, match="is not a clock"):
        read(text)


@pytest.mark.parametrize(("ms", "counter"), [(-1, 0), (10**15, 0), (0, -1), (0, 0x10000)])
def test_no_clock_is_written_that_can_not_be_read(ms: int, counter: int) -> None:
    with pytest.raises(ValueError, match="no clock can hold"):
        write(ms, counter, DEVICE)


@pytest.mark.parametrize("case", CLAMPS, ids=lambda case: case["name"])
def test_clamp_gives_what_the_vector_says(case: dict[str, Any]) -> None:
    assert clamp([(event, clock) for event, clock in case["events"]], case["server_ms"]) == case["expect"]


@given(st.lists(st.integers(0, 10**13), max_size=40))
def test_a_device_never_writes_the_same_or_an_earlier_clock(walls: list[int]) -> None:
    clock = Clock(DEVICE)
    written = [clock.tick(wall) for wall in walls]
    assert written == sorted(set(written))


@given(st.lists(st.integers(0, 4 * 10**12), max_size=30, unique=True), st.integers(0, 2 * 10**12))
def test_clamping_keeps_one_devices_order_and_brings_all_within_reach(ms: list[int], server_ms: int) -> None:
    sent = [(str(n), write(at, 0, DEVICE)) for n, at in enumerate(sorted(ms))]
    changed = clamp(sent, server_ms)
    after = [changed.get(event, clock) for event, clock in sent]
    assert after == sorted(set(after))
    assert all(read(clock).ms <= server_ms + MAX_AHEAD_MS for clock in after)
    assert all(read(dict(sent)[event]).ms > server_ms + MAX_AHEAD_MS for event in changed)
