"""On the days the clocks change every reminder is sent, once, at the right moment by the job's wall clock.

North and south of the equator, and where an offset or the change itself is of half an hour. The expected
moments are worked out by hand from each zone's offsets (the tz database's, told beside them), not by code.
"""

from collections import Counter
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from tests.conftest import Joined
from tests.reminders.conftest import Scene, facts, saw_timeline

from slabtide.reminders.contract import Spec
from slabtide.reminders.push import Outcome
from slabtide.reminders.rules import derive, is_quiet, quiet_ends
from slabtide.reminders.worker import use_sender

HOUR, STEP = timedelta(hours=1), timedelta(minutes=15)


class Notebook:
    """A sender that writes down what it was given."""

    def __init__(self) -> None:
        self.topics: Counter[str] = Counter()

    def send(self, target: Any, message: Any, now: datetime) -> Outcome:
        self.topics[message.topic] += 1
        return Outcome("sent", 201)


def utc(text: str) -> datetime:
    return datetime.fromisoformat(text + "+00:00")


# (zone, the day's six in the morning, 20:45 of the evening before), the offsets before and after the change
NIGHTS = [
    ("America/Chicago", "2026-03-08T11:00", "2026-03-08T02:45"),  # -6, -5
    ("America/Chicago", "2026-11-01T12:00", "2026-11-01T01:45"),  # -5, -6
    ("America/Santiago", "2026-09-06T09:00", "2026-09-06T00:45"),  # -4, -3, at midnight
    ("America/Santiago", "2026-04-05T10:00", "2026-04-04T23:45"),  # -3, -4
    ("Australia/Sydney", "2026-04-04T20:00", "2026-04-04T09:45"),  # +11, +10
    ("Australia/Sydney", "2026-10-03T19:00", "2026-10-03T10:45"),  # +10, +11
    ("Australia/Adelaide", "2026-04-04T20:30", "2026-04-04T10:15"),  # +10:30, +9:30
    ("Australia/Adelaide", "2026-10-03T19:30", "2026-10-03T11:15"),  # +9:30, +10:30
    ("Australia/Lord_Howe", "2026-04-04T19:30", "2026-04-04T09:45"),  # +11, +10:30
    ("Australia/Lord_Howe", "2026-10-03T19:00", "2026-10-03T10:15"),  # +10:30, +11
    ("Asia/Kolkata", "2026-03-08T00:30", "2026-03-07T15:15"),  # +5:30 all year
]


@pytest.mark.parametrize(("zone", "six", "evening"), NIGHTS)
def test_quiet_hours_end_at_six_by_the_clock_of_that_morning(zone: str, six: str, evening: str) -> None:
    place, morning = ZoneInfo(zone), utc(six)
    assert quiet_ends(morning - HOUR, place) == quiet_ends(morning - 5 * HOUR, place) == morning
    assert is_quiet(morning - timedelta(minutes=1), place)
    assert not is_quiet(morning, place)
    assert is_quiet(utc(evening) + STEP, place)
    assert not is_quiet(utc(evening), place)


@pytest.mark.parametrize(("zone", "six", "evening"), NIGHTS)
def test_a_heads_up_of_the_night_waits_for_the_morning_or_comes_the_evening_before(
    zone: str, six: str, evening: str
) -> None:
    morning = utc(six)
    half_past_six, five = morning + 2 * STEP, morning - HOUR
    waits, before = (saw(zone, opens) for opens in (half_past_six, five))
    assert waits["heads_up"].due == morning
    assert before["heads_up"].due == utc(evening)
    for found, opens in ((waits, half_past_six), (before, five)):
        assert found["open"].due == opens, "an opening is never held"
        assert found["last_call"].due == opens + 5 * HOUR - timedelta(minutes=40 + 22 + 45)
        assert found["missed"].due == opens + 5 * HOUR


# (zone, when the slab was placed, 6:30 of the next day, 18:00 of the evening before, 17:00 of its last day)
WASHES = [
    ("America/Chicago", "2026-03-07T09:00", "2026-03-08T11:30", "2026-03-08T00:00", "2026-03-09T22:00"),
    ("America/Chicago", "2026-10-31T08:00", "2026-11-01T12:30", "2026-10-31T23:00", "2026-11-02T23:00"),
    ("Australia/Sydney", "2026-04-03T16:00", "2026-04-04T20:30", "2026-04-04T07:00", "2026-04-06T07:00"),
    ("Australia/Sydney", "2026-10-02T16:00", "2026-10-03T19:30", "2026-10-03T08:00", "2026-10-05T06:00"),
    ("Australia/Lord_Howe", "2026-10-02T16:00", "2026-10-03T19:30", "2026-10-03T07:30", "2026-10-05T06:00"),
    ("Australia/Adelaide", "2026-04-03T16:00", "2026-04-04T21:00", "2026-04-04T07:30", "2026-04-06T07:30"),
]


@pytest.mark.parametrize(("zone", "placed", "opened", "evening", "last"), WASHES)
def test_day_work_opens_at_half_past_six_and_is_announced_at_six_the_evening_before(
    zone: str, placed: str, opened: str, evening: str, last: str
) -> None:
    known = facts(time_zone=zone, placed_to=(utc(placed),), cuts_done=True)
    found = {spec.stage: spec for spec in derive(known, None) if spec.what == "wash"}
    assert found["open"].opens.likely == utc(placed) + 24 * HOUR, "a day of age is 24 hours, not a date"
    assert (found["open"].due, found["heads_up"].due) == (utc(opened), utc(evening))
    assert found["last_call"].due == utc(last)


def test_a_slot_in_the_hour_that_comes_twice_is_the_one_that_was_meant() -> None:
    placed = utc("2026-10-31T00:30")
    for starts, expected in (
        ("2026-11-01T09:30:00-06:00", "2026-11-01T15:30"),
        ("2026-11-01T10:30:00-05:00", "2026-11-01T15:30"),
        ("2026-11-01T01:30:00-05:00", "2026-11-01T12:30"),  # the first of the two, waits for half past six
        ("2026-11-01T01:30:00-06:00", "2026-11-01T12:30"),
    ):
        slot = {"from": starts, "to": starts, "reason": "dry"}
        known = facts(placed_to=(placed,), cuts_done=True)
        found = {
            s.stage: s for s in derive(known, {"loads": [], "slots": {"wash": [slot]}}) if s.what == "wash"
        }
        assert found["open"].due == utc(expected)


def saw(zone: str, opens: datetime) -> dict[str, Spec]:
    """The stages of a saw window of five hours, its times sure to 40 minutes either way."""
    specs = derive(facts(time_zone=zone), saw_timeline(opens, opens + 5 * HOUR))
    return {spec.stage: spec for spec in specs if spec.what == "saw"}


@pytest.mark.parametrize(
    ("zone", "day"),
    [
        ("America/Chicago", "2026-03-08"),
        ("America/New_York", "2026-11-01"),
        ("Australia/Sydney", "2026-10-04"),
        ("Australia/Lord_Howe", "2026-04-05"),
    ],
)
def test_no_reminder_is_skipped_or_doubled_on_a_switch_day(
    scene: Scene, foreman: Joined, zone: str, day: str
) -> None:
    sender = Notebook()
    use_sender(scene.app, sender)
    midnight = datetime.fromisoformat(day).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    evening_before = midnight - 6 * HOUR
    for hour in range(24):
        opens = midnight + hour * HOUR
        job = str(UUID(int=hour + 1))
        scene.derive(evening_before, saw_timeline(opens, opens + 6 * HOUR), job=job, time_zone=zone)
    now = evening_before
    while now < midnight + 32 * HOUR:
        scene.tick(now)
        now += STEP
    assert (len(sender.topics), set(sender.topics.values())) == (24 * 4, {1})
