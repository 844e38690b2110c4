"""Clocks: a phone set wrong neither loses work nor wins for ever."""

from __future__ import annotations

from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest

Join = Callable[..., Any]
FIVE_MINUTES_MS = 300_000


def ms_of(clock: str) -> int:
    return int(clock[:15])


@pytest.mark.parametrize("off", [timedelta(days=-1), timedelta(0), timedelta(days=1), timedelta(days=365)])
def test_an_event_from_a_phone_set_wrong_is_kept_and_none_is_lost(
    sync: Any, join: Join, job: str, off: timedelta
) -> None:
    ana, luis = join("crew"), join("foreman")
    at = datetime.now(UTC) + off
    events = [sync.event(ana, job, "note.written", {"text": str(n)}, at=at) for n in range(5)]
    answer = sync(ana, *events)
    assert len(answer["accepted"]) == 5
    got = sync(luis)["events"]
    assert [event["body"]["text"] for event in got] == list("01234")
    limit = datetime.now(UTC).timestamp() * 1000 + FIVE_MINUTES_MS
    assert all(ms_of(event["clock"]) <= limit for event in got)
    assert [event["clock"] for event in got] == sorted(event["clock"] for event in got)


def test_only_what_is_too_far_ahead_is_clamped_and_the_phone_is_told(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("crew"), join("foreman")
    now = datetime.now(UTC)
    right = sync.event(ana, job, "note.written", {"text": "right"}, at=now)
    near = sync.event(ana, job, "note.written", {"text": "near"}, at=now + timedelta(minutes=4))
    far = sync.event(ana, job, "note.written", {"text": "far"}, at=now + timedelta(days=30))
    clamped = sync(ana, right, near, far)["clamped"]
    assert set(clamped) == {far["id"]}
    stored = {event["id"]: event["clock"] for event in sync(luis)["events"]}
    assert stored == {right["id"]: right["clock"], near["id"]: near["clock"], far["id"]: clamped[far["id"]]}


def test_a_phone_whose_answer_was_lost_learns_the_clamped_clock_when_it_offers_again(
    sync: Any, join: Join, job: str
) -> None:
    ana = join("crew")
    far = sync.event(ana, job, "note.written", {"text": "x"}, at=datetime.now(UTC) + timedelta(days=30))
    first = sync(ana, far)["clamped"][far["id"]]
    assert sync(ana, far)["clamped"] == {far["id"]: first}
    assert sync(ana, far | {"clock": first})["clamped"] == {}


def test_a_phone_in_the_year_2099_does_not_win_over_what_is_written_later(
    sync: Any, join: Join, job: str
) -> None:
    ana, luis = join("foreman"), join("foreman")
    now = datetime.now(UTC)
    wrong = sync.event(ana, job, "stage.reached", {"phase": "pour"}, at=now)
    wrong["clock"] = f"{4_070_908_800_000:015d}-0000-{ana.device}"
    sync(ana, wrong)
    [got] = sync(luis)["events"]
    assert ms_of(got["clock"]) <= (now.timestamp() + 10) * 1000 + FIVE_MINUTES_MS


def test_a_clock_set_back_in_mid_session_keeps_the_order_of_arrival(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("crew"), join("foreman")
    now = datetime.now(UTC)
    for n, minutes in enumerate((0, -90, -30)):
        sync.record(ana, job, "note.written", {"text": str(n)}, at=now + timedelta(minutes=minutes))
    got = sync(luis)["events"]
    assert [(event["seq"], event["body"]["text"]) for event in got] == [(1, "0"), (2, "1"), (3, "2")]


def test_an_impossible_time_is_rejected_by_itself_and_says_what_to_do(
    sync: Any, join: Join, job: str
) -> None:
    ana = join("crew")
    wrong = sync.event(ana, job, "note.written", {"text": "x"}) | {"at": "2099-01-01T00:00:00.000Z"}
    good = sync.event(ana, job, "note.written", {"text": "y"})
    answer = sync(ana, wrong, good)
    assert answer["accepted"] == [good["id"]]
    assert "date and time" in answer["rejected"][0]["why"]["do"]
