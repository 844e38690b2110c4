"""From due to a phone: who is told, what a push service's answers lead to, what a crash can't do."""

import time
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from sqlalchemy import select
from tests.conftest import Joined
from tests.reminders.conftest import CLOSES, OPENS, Scene, saw_timeline

from slabtide.config import KEY, config_of
from slabtide.reminders import outbox
from slabtide.reminders.outbox import LEASE
from slabtide.reminders.push import Outcome, topic_of
from slabtide.reminders.upsert import ripen
from slabtide.reminders.worker import use_sender
from slabtide.store.session import write
from slabtide.store.tables import Delivery, Device

HOUR, MINUTE, SECOND = timedelta(hours=1), timedelta(minutes=1), timedelta(seconds=1)
LAST_CALL = CLOSES - timedelta(minutes=40 + 45 + 22)
Join = Callable[..., Joined]


def answer(status: int, **headers: str) -> Callable[[str], tuple[int, dict[str, str]]]:
    return lambda phone: (status, {name.replace("_", "-"): value for name, value in headers.items()})


def test_a_due_reminder_arrives_once_and_is_sent(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS - 2 * HOUR)
    assert scene.tick(OPENS - 2 * HOUR).claimed == 0
    assert scene.tick(OPENS - HOUR).sent == 1
    assert scene.tick(OPENS - HOUR + 2 * SECOND).claimed == 0
    assert scene.stages_sent() == ["coming up"]
    row = scene.stage("heads_up")
    assert (row.state, row.sent_due) == ("sent", OPENS - HOUR)


def test_a_push_lives_no_longer_than_its_stage_and_only_opening_and_last_call_are_urgent(
    scene: Scene, foreman: Joined
) -> None:
    scene.derive(OPENS - 2 * HOUR)
    for now in (OPENS - HOUR, OPENS, LAST_CALL, CLOSES):
        scene.tick(now)
    sent = [(one.headers["urgency"], int(one.headers["ttl"])) for one in scene.service.arrived]
    late_close = CLOSES + 40 * MINUTE
    assert sent == [
        ("normal", 3600),
        ("high", int((late_close - OPENS).total_seconds())),
        ("high", int((late_close - LAST_CALL).total_seconds())),
        ("normal", 12 * 3600),
    ]
    assert len({one.headers["topic"] for one in scene.service.arrived}) == 4


def test_a_day_without_a_server_sends_only_the_stage_that_is_true_now(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS - 2 * HOUR)
    scene.tick(LAST_CALL + MINUTE)
    assert scene.stages_sent() == ["last call"]
    assert scene.states() == {
        "heads_up": "cancelled",
        "open": "cancelled",
        "last_call": "sent",
        "missed": "planned",
    }


def test_three_days_without_a_server_list_the_missed_and_send_nothing_stale(
    scene: Scene, foreman: Joined
) -> None:
    scene.derive(OPENS - 2 * HOUR)
    scene.tick(OPENS + 72 * HOUR)
    assert set(scene.states().values()) == {"missed"}
    assert [title for title in scene.stages_sent() if title != "last call"] == []


def test_the_clock_set_back_an_hour_doubles_nothing(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS - 2 * HOUR)
    scene.tick(OPENS - HOUR)
    for minutes in range(0, 60, 10):
        scene.tick(OPENS - 2 * HOUR + minutes * MINUTE)
    scene.tick(OPENS - HOUR + MINUTE)
    assert scene.stages_sent() == ["coming up"]


def test_a_sent_reminder_that_moves_arrives_again_as_moved(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS - HOUR)
    scene.tick(OPENS - HOUR)
    scene.derive(OPENS - 55 * MINUTE, saw_timeline(OPENS + HOUR, CLOSES + HOUR))
    scene.tick(OPENS - 55 * MINUTE)
    scene.tick(OPENS - 50 * MINUTE)
    assert scene.stages_sent() == ["coming up", "coming up"]
    first, again = scene.service.arrived
    assert again.message["notification"]["body"].startswith("Moved from 5:00 pm. Saw from about 7:00 pm")
    assert again.headers["topic"] == first.headers["topic"]


def test_done_work_is_not_told(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS - HOUR)
    scene.derive(OPENS - HOUR, cuts_done=True)
    scene.tick(OPENS - HOUR)
    assert scene.service.arrived == []


def test_work_done_while_a_push_waits_for_its_next_try_is_not_told(scene: Scene, foreman: Joined) -> None:
    scene.service.answer = answer(503)
    scene.derive(OPENS)
    scene.tick(OPENS)
    scene.derive(OPENS + SECOND, cuts_done=True)
    scene.service.answer = answer(201)
    scene.tick(OPENS + MINUTE)
    assert [one.answered for one in scene.service.arrived] == [503]
    assert [row.state for row in scene.deliveries()] == ["cancelled"]


def test_work_done_stops_the_tries_for_a_second_phone_too(scene: Scene, foreman: Joined, join: Join) -> None:
    scene.subscribe(join("foreman"), "busy")
    scene.service.answer = lambda phone: (503 if phone == "busy" else 201, {})
    scene.derive(OPENS)
    scene.tick(OPENS)
    assert scene.states()["open"] == "sent"
    scene.derive(OPENS + SECOND, cuts_done=True)
    scene.tick(OPENS + MINUTE)
    assert [one.phone for one in scene.service.arrived].count("busy") == 1
    assert sorted((row.state, row.error) for row in scene.deliveries()) == [
        ("cancelled", "the work is done"),
        ("sent", None),
    ]


def test_the_last_call_reaches_the_crew_and_the_miss_the_office(
    scene: Scene, foreman: Joined, join: Join
) -> None:
    scene.subscribe(join("crew", language="es"), "hand")
    scene.subscribe(join("office"), "desk")
    scene.derive(OPENS - 2 * HOUR)
    for now in (OPENS - HOUR, OPENS, LAST_CALL, CLOSES):
        scene.tick(now)
    assert scene.stages_sent("lead") == ["coming up", "open now", "last call", "time is past"]
    assert scene.stages_sent("hand") == ["último aviso"]
    assert scene.stages_sent("desk") == ["time is past"]
    (spanish,) = [one.message["notification"] for one in scene.service.arrived if one.phone == "hand"]
    assert spanish["lang"] == "es"
    assert spanish["body"].startswith("Corte antes de las 10:20 p. m. Quedan 1 h 7 min.")


def test_where_no_foreman_can_be_reached_the_next_in_line_is_told(scene: Scene, join: Join) -> None:
    scene.subscribe(join("office"), "desk")
    scene.subscribe(join("crew"), "hand")
    scene.derive(OPENS)
    scene.tick(OPENS)
    assert [one.phone for one in scene.service.arrived] == ["desk"]


def test_a_revoked_device_is_told_nothing(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS)
    with scene.app.app_context(), write() as session:
        device = session.get(Device, (foreman.company, foreman.device))
        assert device is not None
        device.revoked_at = OPENS
    scene.tick(OPENS)
    assert scene.service.arrived == []


def test_a_phone_that_subscribes_late_is_told_what_is_still_due(scene: Scene, join: Join) -> None:
    scene.derive(OPENS)
    scene.tick(OPENS)
    assert scene.states()["open"] == "due"
    scene.subscribe(join("foreman"), "lead")
    scene.tick(OPENS + MINUTE)
    assert scene.stages_sent() == ["open now"]


@pytest.mark.parametrize("status", [404, 410])
def test_a_dead_subscription_is_retired_and_the_reminder_failed(
    scene: Scene, foreman: Joined, status: int
) -> None:
    scene.service.answer = answer(status)
    scene.derive(OPENS)
    scene.tick(OPENS)
    retired = scene.subscriptions()["lead"]
    assert retired.retired_at == OPENS
    assert str(status) in (retired.why or "")
    assert scene.states()["open"] == "failed"
    scene.service.answer = answer(201)
    scene.subscribe(foreman, "lead-again")
    scene.tick(OPENS + MINUTE)
    assert scene.states()["open"] == "sent"


def test_what_failed_before_does_not_crowd_out_what_is_due(
    scene: Scene, foreman: Joined, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(outbox, "MOST_PER_TICK", 1)
    scene.service.answer = answer(400)
    scene.derive(OPENS)
    scene.tick(OPENS)
    scene.service.answer = answer(201)
    scene.derive(OPENS + MINUTE, saw_timeline(OPENS + MINUTE), job="22222222-2222-4222-8222-222222222222")
    scene.tick(OPENS + 2 * MINUTE)
    assert [one.answered for one in scene.service.arrived] == [400, 201]


@pytest.mark.parametrize("status", [400, 413])
def test_a_refusal_ends_the_delivery_and_keeps_the_subscription(
    scene: Scene, foreman: Joined, status: int
) -> None:
    scene.service.answer = answer(status)
    scene.derive(OPENS)
    scene.tick(OPENS)
    scene.tick(OPENS + HOUR)
    assert [one.answered for one in scene.service.arrived] == [status]
    assert scene.subscriptions()["lead"].retired_at is None
    (row,) = scene.deliveries()
    assert (row.state, row.status) == ("failed", status)


def tries_within(scene: Scene, seconds: int) -> list[int]:
    """When one due reminder is tried, looking every second."""
    scene.derive(OPENS)
    return [at for at in range(seconds) if scene.tick(OPENS + at * SECOND).claimed]


def test_a_busy_service_is_tried_again_later_and_later(scene: Scene, foreman: Joined) -> None:
    scene.service.answer = answer(429)
    assert tries_within(scene, 120) == [0, 15, 45, 105]
    scene.service.answer = answer(201)
    scene.tick(OPENS + 300 * SECOND)
    assert scene.states()["open"] == "sent"
    assert scene.subscriptions()["lead"].retired_at is None


@pytest.mark.parametrize("status", [403, 500, 503])
def test_a_service_that_is_down_is_asked_twice_a_minute(scene: Scene, foreman: Joined, status: int) -> None:
    scene.service.answer = answer(status)
    assert tries_within(scene, 100) == [0, 15, 43, 71, 99]
    scene.service.answer = answer(201)
    assert scene.tick(OPENS + 127 * SECOND).sent == 1


def test_the_first_push_a_service_takes_again_sets_the_others_free(
    scene: Scene, join: Callable[..., Joined]
) -> None:
    for number in range(4):
        scene.subscribe(join("foreman"), f"p{number}")
    scene.service.answer = answer(503)
    scene.derive(OPENS)
    for seconds in range(0, 300, 2):
        scene.tick(OPENS + seconds * SECOND)
    scene.service.answer = answer(201)
    back = next(at for at in range(300, 400, 2) if scene.tick(OPENS + at * SECOND).sent)
    assert back - 300 <= 30
    scene.tick(OPENS + (back + 2) * SECOND)
    assert {one.phone for one in scene.service.arrived if one.answered == 201} == {"p0", "p1", "p2", "p3"}


def test_a_service_that_says_when_is_not_tried_before(scene: Scene, foreman: Joined) -> None:
    scene.service.answer = answer(429, Retry_After="70")
    scene.derive(OPENS)
    scene.tick(OPENS)
    assert scene.tick(OPENS + 69 * SECOND).claimed == 0
    assert scene.tick(OPENS + 70 * SECOND).claimed == 1


def test_no_try_is_made_after_the_stage_is_over(scene: Scene, foreman: Joined) -> None:
    scene.service.answer = answer(503, Retry_After="999999")
    scene.derive(OPENS - HOUR)
    scene.tick(OPENS - HOUR)
    (row,) = scene.deliveries()
    assert row.state == "failed"
    assert "time runs out" in (row.error or "")
    assert scene.states()["heads_up"] == "failed"


def test_one_dead_endpoint_of_many_delays_nobody_by_a_second(scene: Scene, join: Join) -> None:
    for number in range(100):
        scene.subscribe(join("foreman"), f"p{number}")
    scene.service.answer = lambda phone: (0, {}) if phone == "p50" else (201, {})
    scene.derive(OPENS)
    began = time.monotonic()
    report = scene.tick(OPENS, wait_s=0.8)
    took = time.monotonic() - began
    print(f"99 of 100 sent in {took:.2f} s, of which 0.8 s waiting for the one that hangs")
    assert (report.claimed, report.sent) == (100, 99)
    assert scene.states()["open"] == "sent"
    scene.service.closing.set()


def test_a_worker_killed_between_claim_and_send_loses_nothing(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS)
    claim_and_die(scene)
    assert scene.tick(OPENS + SECOND).claimed == 0, "the lease still runs"
    scene.tick(OPENS + LEASE)
    assert scene.stages_sent() == ["open now"]


def test_a_worker_killed_between_send_and_mark_doubles_only_under_the_same_topic(
    scene: Scene, foreman: Joined, monkeypatch: pytest.MonkeyPatch
) -> None:
    def killed(*args: Any) -> None:
        raise SystemExit("killed")

    scene.derive(OPENS)
    with monkeypatch.context() as patched:
        patched.setattr("slabtide.reminders.dispatch.mark", killed)
        with pytest.raises(SystemExit):
            scene.tick(OPENS)
    scene.tick(OPENS + LEASE)
    scene.tick(OPENS + 2 * LEASE)
    assert len(scene.service.arrived) == 2
    assert {one.headers["topic"] for one in scene.service.arrived} == {topic_of(scene.stage("open").id)}
    assert scene.states()["open"] == "sent"


def test_a_slow_worker_can_not_undo_what_another_did_with_its_claim(scene: Scene, foreman: Joined) -> None:
    scene.derive(OPENS)
    (slow,) = claim_and_die(scene)
    scene.tick(OPENS + LEASE)
    with scene.app.app_context(), write() as session:
        outbox.mark(session, slow, Outcome("gone", 410), OPENS + LEASE + SECOND)
    assert scene.states()["open"] == "sent"
    assert scene.subscriptions()["lead"].retired_at is None


def test_two_workers_never_hold_the_same_delivery(scene: Scene, join: Join) -> None:
    for number in range(10):
        scene.subscribe(join("foreman"), f"p{number}")
    scene.derive(OPENS)
    held: list[str] = []
    with scene.app.app_context():
        with write() as session:
            ripen(session, OPENS)
            outbox.fill(session, OPENS)
        for worker in ("a", "b", "c"):
            with write() as session:
                held += [one.subscription_id for one in outbox.claim(session, OPENS, worker, 4)]
    assert len(held) == len(set(held)) == 10


def test_without_a_push_key_reminders_stay_due_for_the_phone_and_the_log_says_so_once(
    scene: Scene, foreman: Joined, caplog: pytest.LogCaptureFixture
) -> None:
    config_of(scene.app).vapid_key_file.unlink()
    scene.derive(OPENS)
    assert scene.tick(OPENS).claimed == 0
    assert scene.tick(OPENS + SECOND).claimed == 0
    assert scene.states()["open"] == "due"
    assert caplog.text.count("reminders are not pushed: there is no push key; run `slabtide keys`") == 1


def test_without_a_contact_nothing_is_pushed_and_the_log_says_so(
    scene: Scene, foreman: Joined, caplog: pytest.LogCaptureFixture
) -> None:
    scene.app.extensions[KEY] = replace(config_of(scene.app), push_contact=None)
    scene.derive(OPENS)
    assert scene.tick(OPENS).claimed == 0
    assert "SLABTIDE_PUSH_CONTACT is not set" in caplog.text


def test_any_sender_that_keeps_the_protocol_will_do(scene: Scene, foreman: Joined) -> None:
    class Deaf:
        def send(self, target: Any, message: Any, now: Any) -> Outcome:
            return Outcome("later", None, "nobody there")

    use_sender(scene.app, Deaf())
    scene.derive(OPENS)
    report = scene.tick(OPENS)
    assert (report.claimed, report.sent) == (1, 0)


def claim_and_die(scene: Scene) -> list[outbox.Claim]:
    with scene.app.app_context():
        with write() as session:
            ripen(session, OPENS)
            outbox.fill(session, OPENS)
        with write() as session:
            claims = outbox.claim(session, OPENS, "doomed", 5)
            assert session.scalars(select(Delivery.state)).all() == ["claimed"]
    return claims
