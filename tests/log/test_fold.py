"""The fold keeps its rules, and depends on nothing but the set of events."""

import json
import random
from collections.abc import Iterable
from itertools import permutations
from pathlib import Path
from typing import Any

import pytest

from slabtide.log.envelope import Event
from slabtide.log.fold import JobFold, JobState, fold

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "fold.json").read_text())["cases"]


def winners(state: JobState) -> dict[str, Any]:
    return {
        "set": {key: entry["event"] for key, entry in state["set"].items()},
        "items": {name: [entry["event"] for entry in found] for name, found in state["items"].items()},
    }


def told(events: Iterable[Event], job: str = "J") -> JobState:
    """The state when events come one by one in this order."""
    folding = JobFold(job)
    for event in events:
        folding.add(event)
    return folding.state


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_fold_gives_what_the_vector_says(case: dict[str, Any], fill: Any) -> None:
    assert winners(fold(fill(case["events"]), "J")) == case["expect"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_every_order_of_arrival_gives_the_same(case: dict[str, Any], fill: Any) -> None:
    events = fill(case["events"])
    for order in permutations(events) if len(events) <= 6 else [random.Random(1).sample(events, len(events))]:
        assert winners(told(order)) == case["expect"]


def test_an_entry_tells_who_when_and_what(fill: Any) -> None:
    (event,) = fill([{"id": "a", "clock": "10-A", "kind": "note.written", "body": {"text": "wet"}}])
    assert fold([event])["items"]["notes"] == [
        {
            "event": "a",
            "at": "2026-07-14T12:00:00.000Z",
            "author": "person-A",
            "device": "A",
            "clock": "10-A",
            "body": {"text": "wet"},
            "kind": "note.written",
        }
    ]


def test_adding_says_whether_anything_was_new(fill: Any) -> None:
    note = {"id": "a", "clock": "50-A", "kind": "note.written", "body": {"text": "wet"}}
    first, again, clamped = fill([note, note, {**note, "clock": "40-A"}])
    folding = JobFold("J")
    assert [folding.add(event) for event in (first, again, clamped, first)] == [True, False, True, False]


def test_events_of_two_jobs_are_refused(fill: Any) -> None:
    events = fill([{"id": "a", "clock": "1-A", "kind": "x", "body": {}, "job": "other"}])
    with pytest.raises(ValueError, match="belongs to job other"):
        fold(events, "J")


def test_an_event_of_another_job_can_not_be_retracted_from_here(fill: Any) -> None:
    there = fill([{"id": "a", "clock": "1-A", "kind": "note.written", "body": {"text": "n"}, "job": "K"}])
    here = fill([{"id": "r", "clock": "2-A", "kind": "event.retracted", "body": {"event": "a"}}])
    assert winners(fold(here)) == {"set": {}, "items": {}}
    assert winners(fold(there)) == {"set": {}, "items": {"notes": ["a"]}}


def chain_of(length: int, fill: Any) -> list[Event]:
    """A note, its retract, the retract of that, and so on."""
    chain = [{"id": "e0", "clock": "00000-A", "kind": "note.written", "body": {"text": "n"}}]
    chain += [
        {"id": f"e{n}", "clock": f"{n:05d}-A", "kind": "event.retracted", "body": {"event": f"e{n - 1}"}}
        for n in range(1, length + 1)
    ]
    return list(fill(chain))


def test_a_long_chain_of_undo_and_redo_ends_where_its_length_says(fill: Any) -> None:
    events = chain_of(5000, fill)
    assert winners(fold(events))["items"] == {"notes": ["e0"]}
    assert winners(fold(events[:-1]))["items"] == {}


def test_a_chain_told_event_by_event_flips_each_time(fill: Any) -> None:
    folding = JobFold("J")
    for n, event in enumerate(chain_of(60, fill)):
        folding.add(event)
        assert winners(folding.state)["items"] == ({"notes": ["e0"]} if n % 2 == 0 else {})
