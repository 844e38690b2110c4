"""On the days the clocks change every reminder is sent, once: 2 zones, both days, an opening in each hour."""

from collections import Counter
from datetime import UTC, datetime, timedelta
from typing import Any
from uuid import UUID
from zoneinfo import ZoneInfo

import pytest
from tests.conftest import Joined
from tests.reminders.conftest import Scene, saw_timeline

from slabtide.reminders.push import Outcome
from slabtide.reminders.worker import use_sender

HOUR, STEP = timedelta(hours=1), timedelta(minutes=15)


class Notebook:
    """A sender that writes down what it was given."""

    def __init__(self) -> None:
        self.topics: Counter[str] = Counter()

    def send(self, target: Any, message: Any, now: datetime) -> Outcome:
        self.topics[message.topic] += 1
        return Outcome("sent", 201)


@pytest.mark.parametrize("zone", ["America/Chicago", "America/New_York"])
@pytest.mark.parametrize("day", ["2026-03-08", "2026-11-01"])
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
