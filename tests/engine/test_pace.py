"""The race along the slab: who is reached when, what is missed, and what would help."""

import json
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabtide.engine import Pour, forecast
from slabtide.engine.contract import write_timeline
from slabtide.engine.crew import CrewRate, crew_rate
from slabtide.engine.pour import Mix, SurfaceCheck, Texturing
from slabtide.engine.race import Leg, chance_to_miss, latest_starts, run_race
from slabtide.engine.timeline import Pace

MakePour = Callable[..., Pour]
CREW = Texturing(people=4, mats=10, mat_area_m2=0.6, lay_minutes=1.5)
RATE = CrewRate(hands=2, soft_m2_h=40.0, tamper_m2_h=20.0, limited_by="people")


def paced(make_pour: MakePour, crew: Texturing | None = CREW, **scene: Any) -> Pour:
    return replace(make_pour(**{"loads": 2, **scene}), texturing=crew)


def pace(pour: Pour) -> Pace:
    told = forecast(pour, pour.loads[0].batched_at - timedelta(hours=1)).pace
    assert told is not None
    return told


def test_without_a_crew_there_is_no_pace(make_pour: MakePour) -> None:
    assert forecast(paced(make_pour, None), make_pour().loads[0].batched_at).pace is None


def test_more_hands_and_more_mats_are_never_slower() -> None:
    for people in range(1, 9):
        for mats in range(1, 12):
            rate = crew_rate(Texturing(people, mats, 0.6, 2.0))
            assert crew_rate(Texturing(people + 1, mats, 0.6, 2.0)).tamper_m2_h >= rate.tamper_m2_h
            assert crew_rate(Texturing(people, mats + 1, 0.6, 2.0)).tamper_m2_h >= rate.tamper_m2_h
            assert rate.soft_m2_h >= rate.tamper_m2_h > 0.0


def test_two_mats_hold_up_a_large_crew_and_two_people_hold_up_many_mats() -> None:
    assert crew_rate(Texturing(6, 2, 0.6, 2.0)).limited_by == "mats"
    assert crew_rate(Texturing(2, 20, 0.6, 2.0)).limited_by == "people"


def test_the_usual_crew_prints_what_the_trade_tells_of() -> None:
    """250 to 500 ft2/h for four to six people: common practice, no source."""
    for people in (4, 5):
        ft2_h = crew_rate(Texturing(people, 10, 0.6, 3.0)).tamper_m2_h * 10.764
        assert 250 <= ft2_h <= 500


@given(start=st.floats(0, 1e4), area=st.floats(0.1, 60), tamper=st.floats(0, 2e4) | st.just(float("inf")))
def test_when_to_begin_is_when_it_ends_read_backwards(start: float, area: float, tamper: float) -> None:
    finish = RATE.finish_s(start, area, tamper)
    assert finish > start
    assert RATE.start_s(finish, area, tamper) == pytest.approx(start, abs=1e-3)


def leg(id: str, opens: float, closes: float, area: float = 20.0) -> Leg:
    return Leg(id, area, [opens], [closes], [float("inf")])


def test_a_crew_waits_for_a_load_that_is_not_open() -> None:
    first, second = run_race([leg("1", 0.0, 9e3), leg("2", 7200.0, 1.2e4)], RATE, 0.0)
    assert first.finished_s == [1800.0]
    assert second.reached_s == [7200.0]
    assert second.slack_s == [1.2e4 - 9000.0]


def test_a_load_that_locks_is_left_for_the_next() -> None:
    first, second = run_race([leg("1", 0.0, 600.0), leg("2", 0.0, 1e4)], RATE, 0.0)
    assert first.slack_s[0] < 0.0
    assert second.reached_s == [600.0 + 180.0]
    assert chance_to_miss([first, second]) == 1.0
    assert chance_to_miss([second]) == 0.0


def test_the_latest_start_makes_every_load_and_a_minute_later_does_not() -> None:
    legs = [leg("1", 0.0, 3000.0), leg("2", 1000.0, 5000.0)]
    (start,) = latest_starts(legs, RATE)
    assert start is not None
    assert chance_to_miss(run_race(legs, RATE, start - 1e-6)) == 0.0
    assert chance_to_miss(run_race(legs, RATE, start + 60.0)) == 1.0
    assert latest_starts([leg("1", 0.0, 600.0)], RATE) == [None]


def test_loads_are_reached_in_turn_and_quantiles_keep_order(make_pour: MakePour) -> None:
    told = pace(paced(make_pour))
    assert [load.id for load in told.loads] == ["1", "2"]
    first, second = told.loads
    assert first.finished.likely <= second.reached.likely
    for load in told.loads:
        assert load.reached.early <= load.reached.likely <= load.reached.late
        assert load.slack_minutes[0] <= load.slack_minutes[1] <= load.slack_minutes[2]
        assert 0.0 <= load.chance_to_miss <= told.chance_to_miss <= 1.0


def test_the_load_that_closes_first_is_worked_first(make_pour: MakePour) -> None:
    pour = paced(make_pour)
    hot = replace(pour.loads[1], concrete_temp_c=34.0)
    assert [load.id for load in pace(replace(pour, loads=(pour.loads[0], hot))).loads] == ["2", "1"]


def test_a_small_crew_on_a_hot_day_misses_and_a_large_one_on_a_cool_day_does_not(
    make_pour: MakePour,
) -> None:
    hot = paced(make_pour, replace(CREW, people=2), air_c=33.0, concrete_c=33.0)
    cool = paced(make_pour, replace(CREW, people=6, mats=20), air_c=12.0, concrete_c=16.0)
    assert pace(hot).chance_to_miss > 0.9
    assert pace(hot).start_by is None
    assert pace(cool).chance_to_miss < 0.1
    assert pace(cool).start_by is not None


@settings(max_examples=8, deadline=None)
@given(people=st.integers(2, 6), air_c=st.floats(10, 32))
def test_no_lever_makes_a_race_worse_but_waiting(people: int, air_c: float) -> None:
    from tests.engine.conftest import make

    told = pace(paced(make, replace(CREW, people=people), air_c=air_c, concrete_c=air_c + 2, hours=40))
    for change in told.changes:
        assert 0.0 <= change.chance_to_miss_after <= told.chance_to_miss + 1e-9
        assert change.amount > 0


def test_only_levers_that_move_the_odds_or_bring_ten_minutes_are_listed(make_pour: MakePour) -> None:
    """Three people with ten mats are held up by people: more mats change nothing and are not listed."""
    told = pace(paced(make_pour, replace(CREW, people=3), air_c=24.0, concrete_c=26.0))
    assert "one_more_hand" in {change.change for change in told.changes}
    assert "another_set_of_mats" not in {change.change for change in told.changes}
    for change in told.changes:
        lessened = told.chance_to_miss - change.chance_to_miss_after
        assert lessened >= 0.05 - 1e-9 or change.slack_minutes_gained >= 10.0


def test_where_nothing_helps_nothing_is_listed(make_pour: MakePour) -> None:
    hopeless = replace(paced(make_pour, Texturing(1, 1, 0.1, 10.0), loads=1, air_c=35.0, concrete_c=35.0))
    told = forecast(hopeless, hopeless.loads[0].placed_to).pace
    assert told is not None
    assert told.chance_to_miss == 1.0
    assert told.changes == ()
    easy = pace(paced(make_pour, replace(CREW, people=12, mats=40), air_c=12.0, concrete_c=16.0))
    assert easy.chance_to_miss < 0.05
    assert easy.changes == ()


def test_once_all_is_placed_only_people_mats_and_starting_are_left(make_pour: MakePour) -> None:
    pour = paced(make_pour)
    told = forecast(pour, pour.loads[-1].placed_to).pace
    assert told is not None
    names = {change.change for change in told.changes}
    assert names <= {"start_earlier", "one_more_hand", "another_set_of_mats"}
    assert "one_more_hand" in names


def test_a_check_that_narrows_the_windows_moves_the_race(make_pour: MakePour) -> None:
    pour = paced(make_pour)
    at = pour.loads[0].placed_to + timedelta(minutes=100)
    slow = replace(pour, checks=(SurfaceCheck("1", at, "footprint", 30.0),))
    before, after = forecast(pour, at).pace, forecast(slow, at).pace
    assert before is not None
    assert after is not None
    assert after.ready_at > before.ready_at + timedelta(minutes=15)


def test_a_slab_that_never_sets_in_reach_still_has_a_pace(make_pour: MakePour) -> None:
    told = pace(paced(make_pour, mix=Mix(set_factor=3.0), hours=16, air_c=4.0, concrete_c=6.0))
    assert told.chance_to_miss == 1.0


def test_pace_is_written_with_every_key(make_pour: MakePour) -> None:
    pour = paced(make_pour)
    data: Any = write_timeline(forecast(pour, pour.loads[0].batched_at))["pace"]
    assert json.loads(json.dumps(data, allow_nan=False)) == data
    assert set(data) == {
        "start",
        "where",
        "loads",
        "chance_to_miss",
        "slack_minutes",
        "limiting",
        "release",
        "calls",
        "changes",
        "model",
    }
    assert list(data["start"]) == ["ready_at", "opens", "by"]
    keys = ["id", "left_m2", "reached", "finished", "closes", "slack_minutes", "chance_to_miss"]
    assert list(data["loads"][0]) == [*keys, "tamper_from", "tamper_chance"]
    change_keys = ["change", "amount", "unit", "chance_to_miss_after", "slack_minutes_gained"]
    assert list(data["changes"][0]) == change_keys
    assert data["limiting"] in {"1", "2"}
