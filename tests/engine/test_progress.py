"""The race goes on from where the crew is: what is done, how fast they are, what to tell them early."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest

from slabtide.engine import Pour, forecast
from slabtide.engine.contract import ContractError, read_pour
from slabtide.engine.crew import crew_rate
from slabtide.engine.pour import Texturing, Worked
from slabtide.engine.timeline import Pace

MakePour = Callable[..., Pour]
CREW = Texturing(people=4, mats=10, mat_area_m2=0.6, lay_minutes=1.5)
MINUTE = timedelta(minutes=1)


def told(pour: Pour, at: datetime, *worked: Worked, crew: Texturing = CREW) -> Pace:
    pace = forecast(replace(pour, texturing=replace(crew, worked=worked)), at).pace
    assert pace is not None
    return pace


def opening(pour: Pour) -> datetime:
    return told(pour, pour.loads[0].batched_at).opens.likely


def test_a_finished_load_is_out_of_the_race_and_the_next_is_reached_now(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    begun = opening(pour)
    at = begun + 40 * MINUTE
    pace = told(pour, at, Worked("1", 26.0, begun, at))
    assert [load.id for load in pace.loads] == ["2"]
    assert pace.where.done_m2 == pytest.approx(26.0)
    assert pace.where.left_m2 == pytest.approx(26.0)
    assert pace.loads[0].reached.likely >= at


def test_a_part_still_being_worked_counts_by_the_pace_and_never_as_all_of_it(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    begun = opening(pour)
    soon = told(pour, begun + 6 * MINUTE, Worked("1", 10.0, begun))
    late = told(pour, begun + 90 * MINUTE, Worked("1", 10.0, begun))
    assert soon.where.load == "1"
    assert 0.0 < soon.where.done_m2 < 9.0
    assert late.where.done_m2 == pytest.approx(9.0)


def test_a_crew_that_has_not_begun_loses_the_minutes_that_pass(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    at = opening(pour) + 45 * MINUTE
    before, after = told(pour, opening(pour)), told(pour, at)
    assert after.ready_at == at
    assert after.slack_minutes[1] < before.slack_minutes[1] - 20
    assert after.where.behind_minutes > 20
    assert not after.where.begun


def test_a_crew_on_plan_is_neither_behind_nor_ahead(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    begun = opening(pour)
    at = begun + 30 * MINUTE
    area = crew_rate(CREW).soft_m2_h / 2.0
    pace = told(pour, at, Worked("1", area, begun, at))
    assert abs(pace.where.behind_minutes) < 5
    assert pace.where.speed == pytest.approx(1.0, abs=0.05)


def test_a_slow_crew_is_raced_at_the_pace_it_keeps(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    begun = opening(pour)
    at = begun + 40 * MINUTE
    slow = told(pour, at, Worked("1", 10.0, begun, at))
    brisk = told(pour, at, Worked("1", 26.0, begun, begun + 22 * MINUTE))
    assert slow.where.speed < 0.8 < brisk.where.speed
    assert slow.rate.soft_m2_h < brisk.rate.soft_m2_h
    assert slow.where.timed_minutes == pytest.approx(40)
    assert slow.chance_to_miss > brisk.chance_to_miss


def test_marks_made_afterwards_say_nothing_of_the_pace(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    at = opening(pour) + 40 * MINUTE
    pace = told(pour, at, Worked("1", 20.0, at - MINUTE, at))
    assert pace.where.speed == 1.0
    assert pace.where.done_m2 == pytest.approx(20.0)


def test_what_comes_after_now_is_not_seen(make_pour: MakePour) -> None:
    pour = make_pour(loads=2)
    at = opening(pour)
    assert told(pour, at, Worked("1", 26.0, at + 5 * MINUTE, at + 50 * MINUTE)) == told(pour, at)


def test_when_all_is_textured_the_race_is_over(make_pour: MakePour) -> None:
    pour = make_pour(loads=1)
    begun = opening(pour)
    crew = replace(CREW, worked=(Worked("1", 26.0, begun, begun + 40 * MINUTE),))
    assert forecast(replace(pour, texturing=crew), begun + 41 * MINUTE).pace is None


def test_hands_are_called_for_where_they_save_the_far_end_and_not_where_none_is_needed(
    make_pour: MakePour,
) -> None:
    tight = make_pour(loads=2, air_c=27.0, concrete_c=28.0)
    call = next(c for c in told(tight, opening(tight)).calls if c.code == "add_hands")
    assert call.params["chance_after"] <= call.params["chance_before"] - 0.05
    assert call.params["people"] >= 1
    easy = make_pour(loads=2, air_c=12.0, concrete_c=16.0)
    many = replace(CREW, people=6, mats=20)
    assert "add_hands" not in {c.code for c in told(easy, opening(easy), crew=many).calls}


def test_the_tamper_is_called_for_before_body_weight_stops_printing(make_pour: MakePour) -> None:
    pour = make_pour(loads=2, air_c=27.0, concrete_c=28.0)
    at = opening(pour)
    call = next(c for c in told(pour, at).calls if c.code == "tamper")
    assert call.at > at
    assert call.params["chance"] >= 0.5
    small = make_pour(loads=1, air_c=12.0, concrete_c=16.0)
    quick = replace(CREW, people=8, mats=30)
    assert "tamper" not in {c.code for c in told(small, opening(small), crew=quick).calls}


def test_release_lasts_less_in_dry_wind_and_is_laid_less_far_ahead(make_pour: MakePour) -> None:
    calm, dry = make_pour(rh=0.75, wind_kmh=5.0), make_pour(rh=0.25, wind_kmh=30.0, air_c=28.0)
    long, short = told(calm, opening(calm)), told(dry, opening(dry))
    assert short.release.lasts_minutes < 30.0 < long.release.lasts_minutes
    assert short.release.ahead_m2 < long.release.ahead_m2
    assert "hold_release" in {c.code for c in short.calls}
    assert "hold_release" not in {c.code for c in long.calls}


@pytest.mark.parametrize(
    ("worked", "path"),
    [
        ({"load": "9", "area_m2": 5, "from": "2026-06-04T16:00:00Z"}, "texturing.worked[0].load"),
        ({"load": "1", "area_m2": 0, "from": "2026-06-04T16:00:00Z"}, "texturing.worked[0].area_m2"),
        ({"load": "1", "area_m2": 5}, "texturing.worked[0].from"),
        (
            {"load": "1", "area_m2": 5, "from": "2026-06-04T16:00:00Z", "to": "2026-06-04T15:00:00Z"},
            "texturing.worked[0].to",
        ),
        ({"load": "1", "area_m2": 5, "from": "2026-06-04T16:00:00Z", "bay": "x"}, "texturing.worked[0].bay"),
    ],
)
def test_progress_that_can_not_be_is_an_error_with_its_path(
    sample: dict[str, Any], worked: dict[str, Any], path: str
) -> None:
    sample["texturing"]["worked"] = [worked]
    with pytest.raises(ContractError) as raised:
        read_pour(sample)
    assert path in [problem.path for problem in raised.value.problems]
