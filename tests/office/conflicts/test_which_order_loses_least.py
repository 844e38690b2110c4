"""Where one crew can't be everywhere: what clashes, and the order of work that loses least."""

from datetime import UTC, datetime, timedelta
from itertools import permutations
from typing import Any

from hypothesis import given
from hypothesis import strategies as st

from slabtide.office.conflicts.order import Work, clashes, in_order
from slabtide.office.conflicts.settings import EST
from slabtide.office.conflicts.works import find

SEVEN = datetime(2026, 7, 15, 11, 0, tzinfo=UTC)  # 7 am at the slabs
NIGHT = SEVEN - timedelta(hours=10)
HOUR = timedelta(hours=1)


def when(at: datetime) -> dict[str, str]:
    return {name: at.isoformat() for name in ("early", "likely", "late")}


def pour(at: datetime = SEVEN, loads: int = 2, **named: str) -> dict[str, Any]:
    return {"pour_at": at.isoformat(), "loads_ordered": loads, "loads_placed": 0, "named": named}


def waits(what: str, opens: datetime, closes: datetime, **named: str) -> dict[str, Any]:
    window = {"what": what, "subject": "", "opens": when(opens), "closes": when(closes)}
    return {"windows": [window], "named": {"saw_min": 60, **named}}


def test_the_front_is_to_be_poured_while_the_back_wants_its_cut() -> None:
    jobs = [("front", pour()), ("back", waits("saw", SEVEN + HOUR, SEVEN + 3 * HOUR))]
    (conflict,) = find(jobs, NIGHT).conflicts
    order = [(turn.work.job, turn.work.what) for turn in conflict.clash.best]
    assert order == [("back", "saw"), ("front", "pour")]
    assert conflict.clash.best[0].late == timedelta(0)
    assert conflict.clash.best[1].late == 3 * HOUR + timedelta(minutes=15)
    assert conflict.clash.best_loss < conflict.clash.loss


def test_a_saw_that_can_be_done_before_the_pour_is_no_conflict() -> None:
    jobs = [("front", pour()), ("back", waits("saw", SEVEN - 5 * HOUR, SEVEN + HOUR))]
    assert find(jobs, NIGHT).conflicts == ()


def test_a_coat_gives_way_to_a_saw() -> None:
    coat = waits("seal", SEVEN, SEVEN + 2 * HOUR)
    jobs = [("front", coat), ("back", waits("saw", SEVEN, SEVEN + 2 * HOUR + timedelta(minutes=30)))]
    (conflict,) = find(jobs, NIGHT).conflicts
    assert [turn.work.what for turn in conflict.clash.best] == ["saw", "seal"]


def textures(opens: datetime, *loads: int, **more: Any) -> dict[str, Any]:
    """Loads that open so many minutes after the first, each open for 90 minutes."""
    windows = [
        {"what": "texture", "subject": f"load-{number}", "opens": when(at), "closes": when(at + 1.5 * HOUR)}
        for number, minutes in enumerate(loads, 1)
        if (at := opens + timedelta(minutes=minutes))
    ]
    return {"windows": windows, "named": {}} | more


def test_two_slabs_that_want_their_mats_at_one_time_are_the_costliest_clash() -> None:
    jobs = [
        ("front", textures(SEVEN, 0, texture_min=40)),
        ("back", textures(SEVEN, 15)),
        ("coat", waits("seal", SEVEN, SEVEN + 2 * HOUR)),
        ("cut", waits("saw", SEVEN + 6 * HOUR, SEVEN + 8 * HOUR)),
    ]
    (conflict,) = find(jobs, NIGHT).conflicts
    order = [(turn.work.job, turn.work.what, turn.work.subject) for turn in conflict.clash.best]
    assert order[:2] == [("front", "texture", "load-1"), ("back", "texture", "load-1")]
    assert order[-1][1] == "seal", "a coat gives way"
    back = conflict.clash.best[1]
    # 40 min by the pace, 45 to the other job, 45 where no pace is known; its window ends 105 min after seven.
    assert back.late == timedelta(minutes=40 + 45 + 45 - 105)
    assert EST.weights["texture"] == max(EST.weights.values())


def test_mats_on_one_slab_while_another_is_poured_are_a_clash() -> None:
    (conflict,) = find([("front", pour()), ("back", textures(SEVEN + HOUR, 0))], NIGHT).conflicts
    assert [turn.work.what for turn in conflict.clash.best] == ["texture", "pour"]


def test_loads_of_one_slab_that_are_late_on_their_own_are_no_conflict_with_another() -> None:
    alone = textures(SEVEN, 0, 10, 20, texture_min=45)
    later = waits("wash", SEVEN + HOUR, SEVEN + 30 * HOUR)
    assert find([("front", alone), ("back", later)], NIGHT).conflicts == ()


def test_texture_that_has_closed_for_good_holds_no_crew() -> None:
    jobs = [("front", textures(SEVEN, 0)), ("back", waits("saw", SEVEN + HOUR, SEVEN + 2.6 * HOUR))]
    closed = SEVEN + 1.5 * HOUR
    assert len(find(jobs, closed - timedelta(minutes=1)).conflicts) == 1
    assert find(jobs, closed).conflicts == ()


def test_crews_of_other_names_do_not_clash() -> None:
    saw = waits("saw", SEVEN + HOUR, SEVEN + 3 * HOUR, crew="Blue", saw="Blue")
    assert find([("front", pour(crew="Red")), ("back", saw)], NIGHT).conflicts == ()
    same = waits("saw", SEVEN + HOUR, SEVEN + 3 * HOUR, crew=" red ")
    (conflict,) = find([("front", pour(crew="Red")), ("back", same)], NIGHT).conflicts
    assert (conflict.resource.kind, conflict.resource.name) == ("crew", "red")


def test_two_crews_may_still_want_one_saw() -> None:
    jobs = [
        (job, waits("saw", SEVEN, SEVEN + 2 * HOUR, crew=job, saw="Big saw")) for job in ("front", "back")
    ]
    (conflict,) = find(jobs, NIGHT).conflicts
    assert (conflict.resource.kind, len(conflict.clash.best)) == ("saw", 2)


def test_one_job_alone_is_never_in_conflict_with_itself() -> None:
    job = pour() | waits("saw", SEVEN + HOUR, SEVEN + 2 * HOUR)
    assert find([("front", job)], NIGHT).conflicts == ()


def test_a_window_that_never_closes_loses_nothing_by_waiting() -> None:
    wash = waits("wash", SEVEN, SEVEN)
    wash["windows"][0]["closes"] = None
    assert find([("front", pour()), ("back", wash)], NIGHT).conflicts == ()


def test_with_many_jobs_and_no_names_nothing_can_be_told() -> None:
    jobs = [(f"job {number}", pour()) for number in range(EST.most_unnamed + 1)]
    found = find(jobs, NIGHT)
    assert (found.conflicts, found.unnamed) == ((), ("crew",))


def test_what_is_too_far_ahead_is_left_for_later() -> None:
    jobs = [("front", pour()), ("back", pour())]
    assert len(find(jobs, NIGHT).conflicts) == 1
    assert find(jobs, NIGHT - EST.look_ahead).conflicts == ()


works = st.lists(
    st.builds(
        lambda job, what, ready, lasts, slack: Work(
            job,
            what,
            "",
            SEVEN + ready * HOUR,
            lasts * HOUR,
            SEVEN + (ready + lasts + slack) * HOUR,
        ),
        st.sampled_from("abcd"),
        st.sampled_from(("pour", "saw", "seal")),
        st.integers(0, 6),
        st.integers(1, 4),
        st.integers(0, 3),
    ),
    min_size=2,
    max_size=5,
)


@given(works)
def test_no_other_order_of_the_same_work_loses_less(some: list[Work]) -> None:
    def loss(order: Any) -> float:
        turns = in_order(order, NIGHT)
        return sum(EST.weights[turn.work.what] * (turn.late / HOUR) for turn in turns)

    for clash in clashes(some, NIGHT):
        least = min(map(loss, permutations(turn.work for turn in clash.best)))
        assert abs(clash.best_loss - least) < 1e-9
        assert clash.best_loss <= clash.loss
