"""Laws of the fold, over random logs of 2 to 6 devices with retracts of retracts."""

import random
from typing import Any

from hypothesis import given, settings
from hypothesis import strategies as st

from slabtide.log.envelope import Event
from slabtide.log.fold import JobFold, JobState, fold
from slabtide.log.view import view_job, view_json

BAYS = ("b1", "b2")


@st.composite
def bodies(draw: st.DrawFn, known: int) -> tuple[str, dict[str, Any]]:
    """A kind and body; every third or so takes back an event known or still to come."""
    choice = draw(st.integers(0, 5))
    if choice == 0:
        return "note.written", {"text": draw(st.sampled_from(("wet", "dry")))}
    if choice == 1:
        step, mark = draw(st.sampled_from(("mag", "texture"))), draw(st.sampled_from(("start", "end")))
        return "bay.worked", {"bay": draw(st.sampled_from(BAYS)), "step": step, "mark": mark}
    if choice == 2:
        done = draw(st.booleans())
        return "item.ticked", {"list": "forms", "item": "stakes", "subject": "", "done": done}
    if choice == 3:
        return "later.kind", {"what": 1}
    return "event.retracted", {"event": f"e{draw(st.integers(0, known + 2)):03d}"}


@st.composite
def logs(draw: st.DrawFn) -> list[Event]:
    """Up to 24 events of 2 to 6 devices with near clocks, ties among them."""
    devices = [f"d{n}" for n in range(draw(st.integers(2, 6)))]
    events = []
    for n in range(draw(st.integers(0, 24))):
        kind, body = draw(bodies(n))
        device = draw(st.sampled_from(devices))
        clock = f"{draw(st.integers(0, 30)):03d}"
        at = "2026-07-14T12:00:00.000Z"
        events.append(Event(f"e{n:03d}", "J", kind, body, at, clock, device, f"of-{device}"))
    return events


def told(events: list[Event]) -> JobState:
    folding = JobFold("J")
    for event in events:
        folding.add(event)
    return folding.state


def by_definition(events: list[Event]) -> set[str]:
    """Ids that stand, straight from the rule: latest first, an unhidden retract hides its target."""
    order = sorted(events, key=lambda event: (event.clock, event.id), reverse=True)
    at = {event.id: (event.clock, event.id) for event in events}
    hidden: set[str] = set()
    for event in order:
        target = event.body.get("event") if event.kind == "event.retracted" else None
        if target in at and event.id not in hidden and at[event.id] > at[target]:
            hidden.add(target)
    return {event.id for event in events} - hidden


@settings(max_examples=300)
@given(logs(), st.randoms(use_true_random=False))
def test_order_and_duplicates_never_matter(events: list[Event], chance: random.Random) -> None:
    wanted = fold(events, "J")
    again = events + chance.sample(events, len(events) // 2)
    chance.shuffle(again)
    assert told(again) == wanted
    assert told(list(reversed(events))) == wanted


@settings(max_examples=300)
@given(logs())
def test_what_stands_is_what_the_rule_says(events: list[Event]) -> None:
    stands = by_definition(events)
    state = fold(events, "J")
    notes = [event for event in events if event.kind == "note.written" and event.id in stands]
    ticks = [event for event in events if event.kind == "item.ticked" and event.id in stands]
    in_order = sorted(notes, key=lambda event: (event.clock, event.id))
    assert [entry["event"] for entry in state["items"].get("notes", [])] == [event.id for event in in_order]
    last = max(ticks, key=lambda event: (event.clock, event.id), default=None)
    held = state["set"].get("ticks/forms/stakes/")
    assert (held["event"] if held else None) == (last.id if last else None)


@given(logs(), st.data())
def test_a_clamped_copy_counts_whenever_it_comes(events: list[Event], data: st.DataObject) -> None:
    if not events:
        return
    early = data.draw(st.sampled_from(events))
    clamped = Event(**{**early.as_json(), "clock": "000"})
    rest = [event for event in events if event is not early]
    wanted = fold([*rest, clamped], "J")
    assert told([*events, clamped]) == told([clamped, *events]) == wanted


@given(logs())
def test_every_state_can_be_viewed(events: list[Event]) -> None:
    drawn = {"corners": [[0, 0], [1, 0], [0, 1]], "order": 1, "label": "1"}
    at = "2026-07-14T12:00:00.000Z"
    bays = [Event(f"x{b}", "J", "bay.drawn", {**drawn, "bay": b}, at, "000", "d", "p") for b in BAYS]
    view = view_json(view_job(fold([*events, *bays], "J")))
    assert [bay["id"] for bay in view["bays"]] == list(BAYS)
