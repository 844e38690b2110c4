"""What becomes of a reminder as time passes and times move: told once, and again only when it matters."""

from dataclasses import replace
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.reminders.conftest import CLOSES, OPENS, ZONE, facts, saw_timeline

from slabtide.reminders.contract import STAGES, Kept, Spec, When
from slabtide.reminders.plan import MOVED_BY, Ack, Key, Standing, plan
from slabtide.reminders.rules import derive

HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
CHICAGO = ZoneInfo(ZONE)


def saw_specs(opens: Any = OPENS, closes: Any = CLOSES) -> list[Spec]:
    return [spec for spec in derive(facts(), saw_timeline(opens, closes)) if spec.what == "saw"]


def step(standing: dict[Key, Standing], specs: list[Spec], now: Any, acks: Any = None) -> dict[Key, Standing]:
    return plan(standing, specs, acks or {}, now, CHICAGO)


def states(standing: dict[Key, Standing]) -> list[str]:
    return [standing["saw", "", stage].state for stage in STAGES]


def sent(standing: dict[Key, Standing], stage: str) -> dict[Key, Standing]:
    row = standing["saw", "", stage]
    told = Standing("sent", row.due, row.due, row.moved_from, row.ack)
    return standing | {("saw", "", stage): told}


def test_before_its_time_everything_is_planned() -> None:
    assert states(step({}, saw_specs(), OPENS - 2 * HOUR)) == ["planned"] * 4


def test_each_stage_falls_due_at_its_time() -> None:
    after = step({}, saw_specs(), OPENS - 2 * HOUR)
    after = step(after, saw_specs(), OPENS - HOUR)
    assert states(after) == ["due", "planned", "planned", "planned"]
    after = step(sent(after, "heads_up"), saw_specs(), OPENS)
    assert states(after) == ["sent", "due", "planned", "planned"]


def test_a_late_sync_tells_only_the_stage_that_is_true_now() -> None:
    assert states(step({}, saw_specs(), CLOSES - HOUR)) == ["cancelled", "cancelled", "due", "planned"]


def test_what_expired_unsent_is_missed_and_not_told() -> None:
    assert states(step({}, saw_specs(), CLOSES + 13 * HOUR)) == ["missed"] * 4


def test_an_unsent_reminder_moves_without_a_word() -> None:
    before = step({}, saw_specs(), OPENS - 3 * HOUR)
    after = step(before, saw_specs(OPENS + HOUR), OPENS - 2 * HOUR)
    assert after["saw", "", "open"].due == OPENS + HOUR
    assert after["saw", "", "open"].moved_from is None


def test_a_sent_heads_up_that_moves_by_more_than_15_minutes_is_told_again_at_once() -> None:
    told = sent(step({}, saw_specs(), OPENS - HOUR), "heads_up")
    moved = step(told, saw_specs(OPENS + HOUR), OPENS - HOUR + MINUTE)["saw", "", "heads_up"]
    assert (moved.state, moved.moved_from, moved.due) == ("due", OPENS - HOUR, OPENS)


def test_a_sent_reminder_that_moves_by_15_minutes_or_less_stays_told() -> None:
    told = sent(step({}, saw_specs(), OPENS - HOUR), "heads_up")
    after = step(told, saw_specs(OPENS + MOVED_BY), OPENS - HOUR + MINUTE)
    assert after["saw", "", "heads_up"].state == "sent"


def test_a_sent_opening_that_moves_later_is_told_again_when_it_comes() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    after = step(told, saw_specs(OPENS + HOUR), OPENS + MINUTE)
    assert after["saw", "", "open"].state == "planned"
    assert after["saw", "", "heads_up"].state == "due", "the news of the move goes at once"
    after = step(sent(after, "heads_up"), saw_specs(OPENS + HOUR), OPENS + HOUR)
    assert (after["saw", "", "open"].state, after["saw", "", "open"].moved_from) == ("due", OPENS)


def test_a_move_that_is_taken_back_leaves_the_told_time_standing() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    moved = step(told, saw_specs(OPENS + HOUR), OPENS + MINUTE)
    back = step(moved, saw_specs(), OPENS + 2 * MINUTE)
    assert (back["saw", "", "open"].state, back["saw", "", "open"].moved_from) == ("sent", None)


def test_done_work_cancels_what_was_not_told_and_undo_brings_it_back() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    done = step(told, [], OPENS + HOUR)
    assert states(done) == ["cancelled", "sent", "cancelled", "cancelled"]
    undone = step(done, saw_specs(), OPENS + 2 * HOUR)
    assert states(undone) == ["cancelled", "sent", "planned", "planned"]


def test_an_acknowledgement_settles_a_reminder_and_is_undone_by_a_retract() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    acks = {("saw", "", "open"): Ack("ana", OPENS + MINUTE, "notification")}
    acked = step(told, saw_specs(), OPENS + 2 * MINUTE, acks)
    assert acked["saw", "", "open"].state == "acknowledged"
    assert (acked["saw", "", "open"].ack or {})["by"] == "ana"
    assert step(acked, saw_specs(), OPENS + 3 * MINUTE)["saw", "", "open"].state == "sent"


def test_an_acknowledgement_of_the_old_time_does_not_silence_a_move() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    acks = {("saw", "", "open"): Ack("ana", OPENS + MINUTE, "app")}
    acked = step(told, saw_specs(), OPENS + 2 * MINUTE, acks)
    moved = step(acked, saw_specs(OPENS + HOUR), OPENS + 3 * MINUTE, acks)
    assert moved["saw", "", "open"].state == "planned"
    acks["saw", "", "open"] = Ack("ana", OPENS + 5 * MINUTE, "app")
    again = step(moved, saw_specs(OPENS + HOUR), OPENS + 6 * MINUTE, acks)
    assert again["saw", "", "open"].state == "acknowledged"
    later = step(again, saw_specs(OPENS + HOUR), OPENS + HOUR, acks)
    assert later["saw", "", "open"].state == "acknowledged", "not told again after it was acknowledged"


def test_an_acknowledged_stage_does_not_silence_the_next() -> None:
    told = sent(step({}, saw_specs(), OPENS), "open")
    acked = step(told, saw_specs(), OPENS, {("saw", "", "open"): Ack("ana", OPENS, "app")})
    after = step(acked, saw_specs(), CLOSES - HOUR, {("saw", "", "open"): Ack("ana", OPENS, "app")})
    assert after["saw", "", "last_call"].state == "due"


def test_a_heads_up_first_due_in_the_night_waits_and_the_opening_does_not() -> None:
    opens = OPENS + 12 * HOUR  # 6:00 am
    specs = saw_specs(opens, opens + 5 * HOUR)
    night = opens - 3 * HOUR
    assert states(step({}, specs, night)) == ["planned"] * 4
    midnight_open = saw_specs(OPENS + 7 * HOUR, OPENS + 12 * HOUR)  # 1:00 am
    assert states(step({}, midnight_open, OPENS + 7 * HOUR))[1] == "due"


@settings(max_examples=150, deadline=None)
@given(
    st.lists(st.tuples(st.integers(1, 90), st.integers(-120, 120), st.booleans()), min_size=1, max_size=25)
)
def test_however_times_move_nothing_is_told_twice_for_one_time_and_done_stays_silent(
    moves: list[tuple[int, int, bool]],
) -> None:
    standing: dict[Key, Standing] = {}
    told: dict[str, list[Any]] = {}
    now = OPENS - 3 * HOUR
    for minutes, shift, done in [*moves, (30, 0, True)]:
        now += minutes * MINUTE
        specs = [] if done else saw_specs(OPENS + shift * MINUTE, CLOSES + shift * MINUTE)
        standing = step(standing, specs, now)
        assert standing == step(standing, specs, now), "a second look changes nothing"
        for (_, _, stage), row in list(standing.items()):
            if row.state == "due":
                assert all(abs(row.due - before) > MOVED_BY for before in told.get(stage, [])[-1:])
                told.setdefault(stage, []).append(row.due)
                standing = sent(standing, stage)
        assert sum(row.state == "due" for row in standing.values()) == 0
    assert not {row.state for row in standing.values()} & {"planned", "due"}


def test_a_kept_time_that_is_lost_is_told_at_once_though_nothing_was_sent_yet() -> None:
    kept = Kept(OPENS + 30 * HOUR, OPENS + 33 * HOUR, "rain", True)
    at = OPENS + 54 * HOUR
    spec = Spec(
        "seal", "coat-1", "heads_up", OPENS + 40 * HOUR, When(at, at, at, kept), None, OPENS + 90 * HOUR
    )
    key = ("seal", "coat-1", "heads_up")
    was = Standing("planned", OPENS + 16 * HOUR)
    told = plan({key: was}, [spec], {}, OPENS, CHICAGO)[key]
    assert (told.state, told.due, told.moved_from) == ("due", spec.due, was.due)
    assert plan({key: told}, [spec], {}, OPENS + MINUTE, CHICAGO)[key] == told
    fits = replace(spec, opens=When(at, at, at, replace(kept, why=None)))
    assert plan({key: was}, [fits], {}, OPENS, CHICAGO)[key].state == "planned"
