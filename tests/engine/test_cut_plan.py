"""The saw's day: each cut has its own close, and the start is told so that the last of them is met."""

from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.engine.conftest import make

from slabtide.engine import Pour, forecast
from slabtide.engine.contract import ContractError, read_pour
from slabtide.engine.cut_plan import SawPlan, saw_plan
from slabtide.engine.later import Cut, Later, TriedCut
from slabtide.engine.pour import Saw, SawKind
from slabtide.engine.timeline import LoadTimeline

MINUTE = timedelta(minutes=1)


@pytest.fixture(scope="module")
def loads() -> tuple[LoadTimeline, ...]:
    pour = make(loads=2)
    return forecast(pour, pour.loads[0].placed_to).loads


def opened(loads: tuple[LoadTimeline, ...]) -> datetime:
    window = loads[0].windows["saw"]
    assert window is not None
    return window.opens.likely


def planned(
    loads: tuple[LoadTimeline, ...], cuts: list[Cut], rate: float = 1.0, tests: tuple[TriedCut, ...] = ()
) -> SawPlan:
    plan = saw_plan(cuts, tests, Saw("conventional", 0.0, rate), loads, opened(loads) - timedelta(hours=2))
    assert plan is not None
    return plan


def test_start_by_is_the_soonest_close_less_the_time_for_all_before_it(
    loads: tuple[LoadTimeline, ...],
) -> None:
    plan = planned(loads, [Cut("a", 5.0, ("1",)), Cut("b", 7.0, ("2",)), Cut("c", 9.0)])
    first, second, third = plan.cuts
    assert first.closes and second.closes and third.closes  # noqa: PT018
    assert first.start_by == first.closes - 5 * MINUTE
    assert second.start_by == second.closes - 12 * MINUTE
    assert third.closes == min(first.closes, second.closes)
    assert third.start_by == third.closes - 21 * MINUTE
    assert plan.start_by == min(first.start_by, second.start_by, third.start_by)


def test_a_cut_opens_with_the_greenest_and_closes_with_the_oldest_of_its_loads(
    loads: tuple[LoadTimeline, ...],
) -> None:
    old, young, both = planned(loads, [Cut("a", 1, ("1",)), Cut("b", 1, ("2",)), Cut("c", 1)]).cuts
    assert both.opens == max(old.opens, young.opens)  # type: ignore[type-var]
    assert both.closes == min(old.closes, young.closes)  # type: ignore[type-var]
    assert old.opens < young.opens  # type: ignore[operator]


def test_where_one_saw_cannot_the_plan_says_from_which_cut_on_and_how_many_could(
    loads: tuple[LoadTimeline, ...],
) -> None:
    fits = planned(loads, [Cut("a", 10.0, ("1",)), Cut("b", 10.0, ("1",))])
    assert (fits.short_from, fits.saws) == (None, 1)
    window = fits.cuts[0]
    room = (window.closes - window.opens) / MINUTE  # type: ignore[operator]
    tight = planned(loads, [Cut(name, room * 0.6, ("1",)) for name in "abc"])
    assert (tight.short_from, tight.saws) == ("b", 2)
    assert planned(loads, [Cut("a", room * 9, ("1",))]).saws is None


def test_a_cut_made_frees_the_time_it_took(loads: tuple[LoadTimeline, ...]) -> None:
    before = planned(loads, [Cut("a", 20.0), Cut("b", 20.0)])
    after = planned(loads, [Cut("a", 20.0, (), opened(loads)), Cut("b", 20.0)])
    assert before.start_by is not None
    assert after.start_by == before.start_by + 20 * MINUTE
    assert (after.left_m, after.minutes_left) == (20.0, 20.0)
    assert after.cuts[0].start_by is None


def test_a_test_cut_opens_or_holds_the_saw(loads: tuple[LoadTimeline, ...]) -> None:
    tried = opened(loads) - timedelta(hours=3)
    cuts = [Cut("a", 5.0, ("1",))]
    plain = planned(loads, cuts).cuts[0].opens
    clean = planned(loads, cuts, 1.0, (TriedCut(tried, "clean", "1"),))
    assert clean.cuts[0].opens == tried
    assert clean.tested is not None
    assert clean.tested.again_at is None
    late = opened(loads) - timedelta(hours=2)
    for result, minutes in (("slight", 25), ("ravels", 60)):
        held = planned(loads, cuts, 1.0, (TriedCut(late, result, None),))  # type: ignore[arg-type]
        assert held.tested is not None
        assert held.tested.again_at == late + minutes * MINUTE
        assert held.cuts[0].opens >= plain  # type: ignore[operator]


@pytest.mark.parametrize("kind", ["conventional", "early-entry"])
def test_an_early_entry_saw_starts_and_must_be_done_sooner(kind: SawKind) -> None:
    def plan(of: SawKind) -> SawPlan:
        pour: Pour = make(saw=Saw(of, 20.0, 1.0))
        told = replace(pour, later=Later(cuts=(Cut("a", 6.0),)))
        found = forecast(told, pour.loads[0].placed_to).saw_plan
        assert found is not None
        return found

    assert plan("early-entry").start_by < plan("conventional").start_by  # type: ignore[operator]
    assert plan(kind).kind == kind


@settings(max_examples=40, deadline=None)
@given(
    lengths=st.lists(st.floats(0.5, 40), min_size=1, max_size=12),
    rate=st.floats(0.2, 4),
    extra=st.floats(0.5, 30),
)
def test_more_to_cut_never_lets_the_crew_start_later(
    loads: tuple[LoadTimeline, ...], lengths: list[float], rate: float, extra: float
) -> None:
    cuts = [Cut(str(n), length) for n, length in enumerate(lengths)]
    less, more = planned(loads, cuts, rate), planned(loads, [Cut("x", extra), *cuts], rate)
    assert more.start_by <= less.start_by  # type: ignore[operator]
    faster = planned(loads, cuts, rate * 2)
    assert faster.start_by >= less.start_by  # type: ignore[operator]


def test_no_cut_planned_is_no_plan(loads: tuple[LoadTimeline, ...]) -> None:
    assert saw_plan([], (), None, loads, opened(loads)) is None


def test_cuts_and_tests_are_read_and_a_load_that_is_not_there_is_named(sample: dict[str, Any]) -> None:

    sample["cuts"] = [{"id": "a", "length_m": 4, "loads": ["1"]}, {"id": "a", "length_m": 2}]
    sample["test_cuts"] = [{"at": "2026-06-04T12:00:00-05:00", "result": "clean", "load": "9"}]
    sample["products"] = {"seal": {"low_c": 20, "high_c": 10}, "wax": {}}
    sample["kept_slots"] = [{"work": "seal", "coat": 5, "from": "x", "to": "y"}]
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    named = {problem.path for problem in caught.value.problems}
    assert {"products.wax", "products.seal.high_c", "kept_slots[0].coat", "kept_slots[0].from"} <= named
    for key in ("products", "kept_slots"):
        del sample[key]
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    assert {problem.path for problem in caught.value.problems} == {"cuts[1].id", "test_cuts[0].load"}
