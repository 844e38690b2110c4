"""A saw reminder nobody takes in hand goes one step up the line, once."""

from collections.abc import Callable
from datetime import timedelta

import pytest
from tests.conftest import Joined
from tests.reminders.conftest import CLOSES, OPENS, ZONE, Scene, facts, saw_timeline

from slabtide.reminders.plan import Ack
from slabtide.reminders.rules import derive
from slabtide.reminders.upsert import upsert
from slabtide.store.session import write

MINUTE = timedelta(minutes=1)
LAST_CALL = CLOSES - timedelta(minutes=40 + 45 + 22)
Join = Callable[..., Joined]


@pytest.fixture
def told(scene: Scene, foreman: Joined, join: Join) -> Scene:
    """The last call has just gone to the foreman; the office has a desk that listens."""
    scene.subscribe(join("office"), "desk")
    scene.derive(LAST_CALL)
    scene.tick(LAST_CALL)
    assert [one.phone for one in scene.service.arrived] == ["lead"]
    return scene


def test_a_last_call_not_acknowledged_for_15_minutes_reaches_the_office_once(told: Scene) -> None:
    for minutes in range(0, 40, 5):
        told.tick(LAST_CALL + minutes * MINUTE)
    assert [one.phone for one in told.service.arrived] == ["lead", "desk"]
    assert told.stages_sent("desk") == ["last call"]
    assert told.stage("last_call").escalation == 1
    assert told.states()["last_call"] == "sent"


def test_an_acknowledged_one_stays_where_it_is(told: Scene) -> None:
    known = facts()
    specs = [spec for spec in derive(known, saw_timeline()) if spec.what == "saw"]
    acks = {told.stage("last_call").id: Ack("ana", LAST_CALL + MINUTE, "notification")}
    with told.app.app_context(), write() as session:
        notebook = {"name": known.name, "time_zone": ZONE}
        upsert(session, told.company, known.job, notebook, specs, acks, LAST_CALL + MINUTE)
    told.tick(LAST_CALL + 20 * MINUTE)
    assert [one.phone for one in told.service.arrived] == ["lead"]


def test_done_work_is_not_passed_on(told: Scene) -> None:
    told.derive(LAST_CALL + 5 * MINUTE, cuts_done=True)
    told.tick(LAST_CALL + 20 * MINUTE)
    assert [one.phone for one in told.service.arrived] == ["lead"]


def test_an_opening_waits_longer_and_a_heads_up_is_never_passed_on(
    scene: Scene, foreman: Joined, join: Join
) -> None:
    scene.subscribe(join("office"), "desk")
    scene.derive(OPENS - timedelta(hours=1))
    for minutes in range(-60, 90, 10):
        scene.tick(OPENS + minutes * MINUTE)
    assert scene.stages_sent("desk") == ["open now"]
    assert scene.stages_sent("lead") == ["coming up", "open now"]
