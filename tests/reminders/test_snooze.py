"""A reminder put off waits, is told once more, and never past the last call."""

from datetime import datetime, timedelta
from typing import Any

import pytest
from tests.conftest import Joined
from tests.reminders.conftest import CLOSES, OPENS, Scene, facts, saw_timeline

from slabtide.reminders.plan import Ack, Standing
from slabtide.reminders.rules import derive
from slabtide.reminders.snooze import Snooze, held_until
from slabtide.reminders.upsert import upsert
from slabtide.store.session import write

MINUTE = timedelta(minutes=1)
SPECS = [spec for spec in derive(facts(), saw_timeline()) if spec.what == "saw"]
BY_STAGE = {spec.stage: spec for spec in SPECS}
LAST_CALL = BY_STAGE["last_call"].due


def asked(until: datetime, at: datetime = OPENS) -> Snooze:
    return Snooze("ana", at, until)


def held(stage: str, snooze: Snooze | None, standing: Standing | None = None) -> datetime | None:
    spec = BY_STAGE[stage]  # type: ignore[index]
    return held_until(spec, SPECS, snooze, standing or Standing("sent", spec.due))


def test_an_opening_is_held_until_the_time_asked_for() -> None:
    assert held("open", asked(OPENS + 30 * MINUTE)) == OPENS + 30 * MINUTE


def test_nothing_is_held_past_the_last_call() -> None:
    assert held("open", asked(CLOSES + 9 * 60 * MINUTE)) == LAST_CALL


def test_a_heads_up_is_held_no_longer_than_it_is_true() -> None:
    at = OPENS - 50 * MINUTE
    assert held("heads_up", asked(OPENS + 60 * MINUTE, at)) == OPENS


@pytest.mark.parametrize("stage", ["last_call", "missed"])
def test_a_last_call_and_a_missed_can_not_be_put_off(stage: str) -> None:
    assert held(stage, asked(CLOSES + 60 * MINUTE, BY_STAGE[stage].due)) is None  # type: ignore[index]


def test_a_time_that_is_past_or_a_settled_reminder_holds_nothing() -> None:
    assert held("open", None) is None
    assert held("open", asked(OPENS - MINUTE)) is None
    assert held("open", asked(OPENS + 30 * MINUTE), Standing("acknowledged", OPENS)) is None
    assert held("open", asked(LAST_CALL + 30 * MINUTE, LAST_CALL + MINUTE)) is None


def test_a_snooze_from_before_a_move_no_longer_counts() -> None:
    moved = Standing("due", OPENS, OPENS - 60 * MINUTE, ack={"before": (OPENS + MINUTE).isoformat()})
    assert held("open", asked(OPENS + 30 * MINUTE), moved) is None
    assert held("open", asked(OPENS + 30 * MINUTE, OPENS + 2 * MINUTE), moved) == OPENS + 30 * MINUTE


class Told:
    """The opening has just gone to the foreman's phone."""

    def __init__(self, scene: Scene) -> None:
        self.scene = scene
        scene.derive(OPENS)
        scene.tick(OPENS)
        self.open = scene.stage("open")

    def say(self, now: datetime, until: datetime | None = None, ack: datetime | None = None) -> None:
        snoozes = {self.open.id: asked(until, now)} if until else {}
        acks = {self.open.id: Ack("ana", ack, "app")} if ack else {}
        with self.scene.app.app_context(), write() as session:
            notebook: dict[str, Any] = {"name": facts().name, "time_zone": facts().time_zone}
            upsert(session, self.scene.company, facts().job, notebook, SPECS, acks, now, snoozes)


@pytest.fixture
def told(scene: Scene, foreman: Joined) -> Told:
    made = Told(scene)
    assert scene.stages_sent() == ["open now"]
    return made


def tick_through(scene: Scene, minutes: range) -> None:
    for minute in minutes:
        scene.tick(OPENS + minute * MINUTE)


def test_what_was_told_and_put_off_is_told_once_more_at_its_time(told: Told) -> None:
    told.say(OPENS + MINUTE, OPENS + 31 * MINUTE)
    tick_through(told.scene, range(2, 31, 7))
    assert told.scene.stages_sent() == ["open now"]
    tick_through(told.scene, range(31, 60, 4))
    assert told.scene.stages_sent() == ["open now", "open now"]
    assert len({one.headers["topic"] for one in told.scene.service.arrived}) == 1


def test_acknowledged_or_taken_back_in_the_meantime_it_is_not_told_again(told: Told) -> None:
    told.say(OPENS + MINUTE, OPENS + 31 * MINUTE)
    told.say(OPENS + 5 * MINUTE, OPENS + 31 * MINUTE, ack=OPENS + 5 * MINUTE)
    tick_through(told.scene, range(31, 60, 7))
    assert told.scene.stages_sent() == ["open now"]


def test_done_work_is_not_told_again(told: Told) -> None:
    told.say(OPENS + MINUTE, OPENS + 31 * MINUTE)
    told.scene.derive(OPENS + 10 * MINUTE, cuts_done=True)
    tick_through(told.scene, range(31, 60, 7))
    assert told.scene.stages_sent() == ["open now"]


def test_a_snooze_to_the_end_of_the_night_still_meets_the_last_call(told: Told) -> None:
    told.say(OPENS + MINUTE, OPENS + 600 * MINUTE)
    last = int((LAST_CALL - OPENS) / MINUTE)
    tick_through(told.scene, range(last - 20, last + 30, 5))
    assert told.scene.stages_sent() == ["open now", "last call"]


def test_what_is_due_and_unsent_waits_too(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS)
    told = Told.__new__(Told)
    told.scene, told.open = scene, scene.stage("open")
    told.say(OPENS, OPENS + 20 * MINUTE)
    tick_through(scene, range(0, 20, 5))
    assert scene.stages_sent() == []
    tick_through(scene, range(20, 40, 5))
    assert scene.stages_sent() == ["open now"]
    assert scene.stage("open").state == "sent"


def test_the_office_is_not_called_while_someone_has_put_it_off(told: Told, join: Any, scene: Scene) -> None:
    scene.subscribe(join("office"), "desk")
    told.say(OPENS + 40 * MINUTE, OPENS + 80 * MINUTE)
    tick_through(scene, range(45, 80, 5))
    assert scene.stages_sent("desk") == []
    tick_through(scene, range(80, 130, 5))
    assert scene.stages_sent("desk") == ["open now"]
