"""A reminder's whole life can be read back: every step, when, who, where and why."""

from collections.abc import Callable
from typing import Any

import pytest
from tests.conftest import Joined, iso
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.reminders import worker
from slabtide.reminders.push import Outcome, PushMessage, PushTarget

NOON = FIRST_BATCH + 5 * HOUR


class Service:
    """A push service that answers as told."""

    def __init__(self, *outcomes: Outcome) -> None:
        self.outcomes = list(outcomes)

    def send(self, target: PushTarget, message: PushMessage, now: Any) -> Outcome:
        return self.outcomes.pop(0) if len(self.outcomes) > 1 else self.outcomes[0]


TOOK = Outcome("sent", 201, None)


@pytest.fixture
def patio(app: Any, client: Any, sync: Any, join: Callable[..., Joined]) -> Any:
    yield Patio(app, client, sync, join("foreman", name="Ana"))
    worker.close(app)


def poured(patio: Patio) -> None:
    """Two loads in place and textured: from here on only later work is reminded of."""
    patio.poured()
    patio.record("stage.reached", {"phase": "next_days"})


def life(patio: Patio, stage: str, who: Joined | None = None) -> list[dict[str, Any]]:
    row = patio.reminders()[stage]
    answer = patio.client.get(f"/api/reminders/{row.id}", headers=(who or patio.foreman).headers)
    assert answer.status_code == 200
    steps: list[dict[str, Any]] = answer.get_json()["steps"]
    return steps


def names(steps: list[dict[str, Any]]) -> list[str]:
    return [step["step"] for step in steps]


def subscribe(patio: Patio, who: Joined) -> None:
    body = {
        "endpoint": f"https://127.0.0.1/push/{who.device}",
        "keys": {"p256dh": "B" + "A" * 86, "auth": "A" * 22},
    }
    answer = patio.client.post("/api/push/subscription", json=body, headers=who.headers)
    assert answer.status_code == 204, answer.get_data(as_text=True)


def test_from_planned_to_taken_in_hand(patio: Patio) -> None:
    worker.use_sender(patio.app, Service(Outcome("later", 503, "busy"), TOOK))  # type: ignore[arg-type]
    subscribe(patio, patio.foreman)
    poured(patio)
    patio.tick(NOON)
    due = patio.reminders()["open"].due
    patio.tick(due + MINUTE)
    patio.tick(due + 2 * MINUTE)
    opened = patio.reminders()["open"]
    patio.record("reminder.acknowledged", {"reminder": opened.id, "via": "notification"}, due + 5 * MINUTE)
    patio.tick(due + 6 * MINUTE)
    steps = life(patio, "open")
    assert names(steps) == ["planned", "due", "tried", "accepted", "sent", "acknowledged"]
    by_name = {step["step"]: step for step in steps}
    assert by_name["tried"]["why"] == "busy"
    assert (by_name["accepted"]["who"], by_name["accepted"]["status"]) == ("Ana", 201)
    acked = by_name["acknowledged"]
    assert (acked["who"], acked["via"], acked["where"]) == ("Ana", "notification", "Ana's phone")
    assert acked["at"] == iso(due + 5 * MINUTE)


def test_nobody_answered_so_the_office_was_told(patio: Patio, join: Callable[..., Joined]) -> None:
    worker.use_sender(patio.app, Service(TOOK))  # type: ignore[arg-type]
    office = join("office", name="Kim")
    subscribe(patio, patio.foreman)
    subscribe(patio, office)
    poured(patio)
    patio.tick(NOON)
    patio.tick(patio.reminders()["last_call"].due - 20 * MINUTE)  # the hour's look may move it
    due = patio.reminders()["last_call"].due
    for minutes in (1, 20, 21):
        patio.tick(due + minutes * MINUTE)
    steps = life(patio, "last_call")
    (passed_on,) = [step for step in steps if step["step"] == "escalated"]
    assert (passed_on["to"], passed_on["why"]) == ("office", "unanswered")
    assert [step["who"] for step in steps if step["step"] == "accepted"] == ["Ana", "Kim"]


def test_one_no_service_took_says_why(patio: Patio) -> None:
    worker.use_sender(patio.app, Service(Outcome("gone", 410, "gone")))  # type: ignore[arg-type]
    subscribe(patio, patio.foreman)
    poured(patio)
    patio.tick(NOON)
    due = patio.reminders()["open"].due
    patio.tick(due + MINUTE)
    steps = life(patio, "open")
    assert names(steps)[-2:] == ["refused", "failed"]
    assert (steps[-2]["why"], steps[-2]["status"], steps[-2]["who"]) == ("gone", 410, "Ana")


def test_work_done_settles_what_was_planned(patio: Patio) -> None:
    poured(patio)
    patio.tick(NOON)
    patio.record("cut.made", {"length_m": 22, "saw": "conventional", "last": True}, NOON)
    patio.tick(NOON + MINUTE)
    steps = life(patio, "last_call")
    assert names(steps) == ["planned", "cancelled"]
    assert steps[1]["why"] == "settled"


def test_a_move_says_from_when_to_when(patio: Patio) -> None:
    poured(patio)
    patio.tick(NOON)
    before = patio.reminders()["open"].due
    body = {"load": patio.loads[0], "kind": "footprint", "depth_mm": 25}
    for minutes in (0, 1, 2):
        patio.record("check.made", body, NOON + minutes * MINUTE)
    patio.tick(NOON + 5 * MINUTE)
    after = patio.reminders()["open"].due
    assert abs(after - before) > 5 * MINUTE  # else this test shows nothing
    (moved,) = [step for step in life(patio, "open") if step["step"] == "moved"]
    assert (moved["from"], moved["to"]) == (iso(before), iso(after))


def test_a_tick_without_news_adds_no_step(patio: Patio) -> None:
    poured(patio)
    patio.tick(NOON)
    first = life(patio, "open")
    for minutes in range(1, 4):
        patio.tick(NOON + minutes * MINUTE)
    assert life(patio, "open") == first


def test_another_company_reads_nothing(patio: Patio, join: Callable[..., Joined], app: Any) -> None:
    from slabtide.people.companies import create_company

    poured(patio)
    patio.tick(NOON)
    with app.app_context():
        other = create_company("Ridge Slabs")
    stranger = join("office", company=other)
    row = patio.reminders()["open"]
    assert patio.client.get(f"/api/reminders/{row.id}", headers=stranger.headers).status_code == 404
