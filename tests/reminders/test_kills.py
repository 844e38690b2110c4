"""A real server is killed while it sends: no reminder is lost, and none shows twice."""

import random
import time
import uuid
from collections import Counter
from collections.abc import Callable, Iterator
from datetime import UTC, datetime, timedelta
from pathlib import Path

import pytest
from flask import Flask
from sqlalchemy import select
from tests.conftest import Joined
from tests.reminders.conftest import Scene, saw_timeline
from tests.sync.serving import Server

from slabtide.reminders.dispatch import AT_ONCE
from slabtide.reminders.push import topic_of
from slabtide.store.session import read
from slabtide.store.tables import Reminder

JOBS, KILLS, PHONES = 60, 6, 3
PATIENCE_S = 75


@pytest.fixture
def server(home: Path) -> Iterator[Server]:
    made = Server(
        home,
        SLABTIDE_PUSH_HOSTS="127.0.0.1",
        SLABTIDE_PUSH_CONTACT="mailto:office@slab.test",
        SLABTIDE_TICK_SECONDS="0.2",
    )
    yield made
    if made.process and made.process.poll() is None:
        made.stop()


def test_no_reminder_is_lost_when_the_server_is_killed_at_random(
    scene: Scene, server: Server, join: Callable[..., Joined]
) -> None:
    seed = random.randrange(10**6)
    chance = random.Random(seed)
    for number in range(PHONES):
        scene.subscribe(join("foreman"), f"p{number}")
    now = datetime.now(UTC)
    timeline = saw_timeline(now, now + timedelta(hours=5))
    jobs = [str(uuid.UUID(int=chance.getrandbits(128))) for _ in range(JOBS)]
    for job in jobs:
        scene.derive(now, timeline, job=job)
    for _ in range(KILLS):
        server.start()
        time.sleep(chance.uniform(0.1, 0.9))
        server.kill()
    server.start()
    wanted = JOBS * PHONES
    until = time.monotonic() + PATIENCE_S
    while set(scene_states(scene.app)) != {"sent"} and time.monotonic() < until:
        time.sleep(0.5)
    server.stop()
    twice = sum(count - 1 for count in shown(scene).values())
    print(f"seed {seed}: {len(shown(scene))} of {wanted} shown, {twice} sent twice in {KILLS} kills")
    assert len(shown(scene)) == wanted
    assert set(scene_states(scene.app)) == {"sent"}
    assert twice <= AT_ONCE * KILLS


def shown(scene: Scene) -> Counter[tuple[str, str]]:
    """What each phone shows: one notification for each topic, however often it was sent."""
    for one in list(scene.service.arrived):
        assert one.headers["topic"] == topic_of(one.message["notification"]["tag"])
    return Counter((one.phone, one.headers["topic"]) for one in list(scene.service.arrived))


def scene_states(app: Flask) -> list[str]:
    with app.app_context(), read() as session:
        return list(session.scalars(select(Reminder.state).where(Reminder.stage == "open")))
