"""A tick that has nothing to do takes no write lock: phones that sync never wait for it."""

from collections.abc import Callable, Iterator
from contextlib import AbstractContextManager, contextmanager
from datetime import timedelta

import pytest
from sqlalchemy.orm import Session
from tests.conftest import Joined
from tests.reminders.conftest import CLOSES, OPENS, Scene

from slabtide.store import session as sessions

SECOND, MINUTE, HOUR = timedelta(seconds=1), timedelta(minutes=1), timedelta(hours=1)


@pytest.fixture
def writes(monkeypatch: pytest.MonkeyPatch) -> list[int]:
    """Grows by one with each write transaction that is begun."""
    begun: list[int] = []
    really = sessions.write

    @contextmanager
    def counted() -> Iterator[Session]:
        begun.append(1)
        opening: AbstractContextManager[Session] = really()
        with opening as session:
            yield session

    monkeypatch.setattr(sessions, "write", counted)
    return begun


def test_hours_of_ticks_with_nothing_due_open_no_write_transaction(
    scene: Scene, foreman: Joined, writes: list[int]
) -> None:
    scene.derive(OPENS - 5 * HOUR)
    scene.tick(OPENS - 5 * HOUR)  # the board's row, once
    writes.clear()
    for number in range(40):
        scene.tick(OPENS - 5 * HOUR + number * 5 * MINUTE)
    assert writes == []


def test_what_is_due_is_written_and_then_all_is_quiet_again(
    scene: Scene, foreman: Joined, writes: list[int]
) -> None:
    scene.derive(OPENS - 2 * HOUR)
    writes.clear()
    assert scene.tick(OPENS - HOUR).sent == 1
    assert writes, "the count does count"
    scene.tick(OPENS - HOUR + 2 * SECOND)  # what the board is owed
    writes.clear()
    for number in range(2, 20):
        scene.tick(OPENS - HOUR + number * 2 * SECOND)
    assert writes == []


def test_what_nobody_answers_is_passed_on_and_then_costs_nothing_more(
    scene: Scene, foreman: Joined, join: Callable[..., Joined], writes: list[int]
) -> None:
    scene.subscribe(join("office"), "desk")
    scene.derive(OPENS - 2 * HOUR)
    for minutes in range(0, 12 * 60, 5):
        scene.tick(OPENS + minutes * MINUTE)
    assert "desk" in [one.phone for one in scene.service.arrived]
    writes.clear()
    for minutes in range(5, 60, 5):
        scene.tick(OPENS + 12 * HOUR + minutes * MINUTE)
    assert writes == []


def test_what_no_phone_can_hear_waits_without_a_write_and_goes_once_one_listens(
    scene: Scene, join: Callable[..., Joined], writes: list[int]
) -> None:
    scene.derive(OPENS)
    scene.tick(OPENS)
    scene.tick(OPENS + 2 * SECOND)
    writes.clear()
    for number in range(2, 20):
        scene.tick(OPENS + number * 2 * SECOND)
    assert writes == []
    scene.subscribe(join("foreman"), "lead")
    scene.tick(OPENS + MINUTE)
    assert scene.stages_sent("lead") == ["open now"]


def test_a_tick_long_after_the_last_reminder_is_quiet_too(
    scene: Scene, foreman: Joined, writes: list[int]
) -> None:
    scene.derive(OPENS - 2 * HOUR)
    for minutes in range(0, 24 * 60, 20):
        scene.tick(OPENS + minutes * MINUTE)
    writes.clear()
    scene.tick(CLOSES + 30 * HOUR)
    assert writes == []
