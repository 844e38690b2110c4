"""Hours fit for later work: each hour that is out says why, and asking for more never gives more."""

from collections.abc import Callable, Iterable
from dataclasses import replace
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.engine.conftest import make

from slabtide.engine import Pour, forecast
from slabtide.engine.days_ahead import WorkAhead
from slabtide.engine.later import Coat, Done, KeptSlot, Later, Product, SheetTest
from slabtide.engine.pour import Weather
from slabtide.engine.slots import CODES

MakePour = Callable[..., Pour]
HOUR = timedelta(hours=1)
WASHED_AT = 8 + 30  # hours from the first weather hour: two in the afternoon of the next day
MILD: dict[str, Any] = {"air_c": 16.0, "swing_c": 5.0, "sun_w_m2": 450.0, "hours": 145}


def start(pour: Pour) -> datetime:
    return pour.weather.hourly[0].at


def washed(pour: Pour, **more: Any) -> Pour:
    return replace(pour, later=Later(done=Done(washes=(start(pour) + WASHED_AT * HOUR,)), **more))


def ahead(pour: Pour, work: str, coat: int = 1, at_h: int = WASHED_AT) -> WorkAhead:
    works = forecast(pour, start(pour) + at_h * HOUR).days.works
    return next(one for one in works if (one.work, one.coat) == (work, coat))


def out_hours(work: WorkAhead, codes: Iterable[str] = CODES) -> set[datetime]:
    """Every hour that is out for one of these reasons."""
    wanted = set(codes)
    return {
        run.starts + n * HOUR
        for run in work.out
        if wanted & {why.code for why in run.why}
        for n in range(int((run.ends - run.starts) / HOUR))
    }


def test_every_hour_is_either_out_with_a_reason_or_part_of_a_run_of_two_fit_hours() -> None:
    pour = washed(make(**MILD))
    days = forecast(pour, start(pour) + WASHED_AT * HOUR).days
    for work in days.works:
        assert all(run.why for run in work.out)
        bounds = [days.starts, *[t for run in work.out for t in (run.starts, run.ends)], days.ends]
        assert bounds == sorted(bounds)
        fit = [b - a for a, b in list(pairwise(bounds))[::2] if b > a]
        assert all(span >= 2 * HOUR for span in fit)
        assert all(
            slot.ends <= run.starts or slot.starts >= run.ends for slot in work.slots for run in work.out
        )


def test_a_washed_slab_is_damp_first_and_says_when_it_dries() -> None:
    work = ahead(washed(make(**MILD)), "colour")
    damp = [why for run in work.out for why in run.why if why.code == "damp"]
    assert {why.of for why in damp} == {"wash"}
    dry_at = damp[0].at
    assert dry_at is not None
    washed_at = start(make(**MILD)) + WASHED_AT * HOUR
    assert 12 * HOUR < dry_at - washed_at < 40 * HOUR  # about a day: common practice, no source
    assert all(slot.starts >= dry_at for slot in work.slots)


def test_a_sheet_test_overrides_the_sum_both_ways() -> None:
    pour = washed(make(**MILD))
    plain = ahead(pour, "seal", at_h=WASHED_AT + 10)
    lifted = start(pour) + (WASHED_AT + 9) * HOUR
    dry = SheetTest(lifted - 8 * HOUR, lifted, dry=True)
    sooner = ahead(washed(pour, sheet_tests=(dry,)), "seal", at_h=WASHED_AT + 10)
    assert out_hours(plain, ["damp"]) > out_hours(sooner, ["damp"])
    late = start(pour) + (WASHED_AT + 40) * HOUR
    damp = SheetTest(late - 16 * HOUR, late, dry=False)
    later = ahead(washed(pour, sheet_tests=(damp,)), "seal", at_h=WASHED_AT + 41)
    assert out_hours(later, ["damp"])
    assert not out_hours(ahead(pour, "seal", at_h=WASHED_AT + 41), ["damp"])


@pytest.mark.parametrize(("work", "least_h"), [("colour", 12), ("seal", 24)])
def test_practices_wait_after_a_wash_holds_until_a_sheet_test_is_dry(work: str, least_h: int) -> None:
    pour = make(**MILD | {"air_c": 33.0, "sun_w_m2": 900.0})  # a day on which the sums are soon dry
    washed_at = start(pour) + WASHED_AT * HOUR
    waiting = out_hours(ahead(washed(pour), work), ["recoat_early"])
    assert waiting == {washed_at + n * HOUR for n in range(least_h)}
    lifted = washed_at + 3 * HOUR
    dry = SheetTest(lifted - HOUR, lifted, dry=True)
    told = ahead(washed(pour, sheet_tests=(dry,)), work, at_h=WASHED_AT + 4)
    assert not out_hours(told, ["recoat_early"])


def test_a_damp_test_stands_until_a_dry_one_in_the_same_place() -> None:
    pour = washed(make(**MILD))
    late = start(pour) + (WASHED_AT + 40) * HOUR
    tests = [
        SheetTest(late - 16 * HOUR, late, False, "A"),
        SheetTest(late - 16 * HOUR, late + HOUR, True, "B"),
    ]
    told = ahead(washed(pour, sheet_tests=tuple(tests)), "seal", at_h=WASHED_AT + 42)
    assert out_hours(told, ["damp"])
    tests.append(SheetTest(late, late + HOUR, True, "A"))
    assert not out_hours(ahead(washed(pour, sheet_tests=tuple(tests)), "seal", at_h=WASHED_AT + 42), ["damp"])


REASONS: list[tuple[str, str, dict[str, Any], Product]] = [
    ("too_green", "wash", {}, Product()),
    ("too_green", "seal", {}, Product(least_age_h=100)),
    ("rain", "wash", {"rain": (90,)}, Product()),
    ("rain_before", "seal", {"rain": (90,)}, Product()),
    ("rain_after", "seal", {"rain": (90,)}, Product()),
    ("near_dew", "seal", {"rh": 0.93}, Product()),
    ("near_dew", "seal", {}, Product(over_dew_k=12)),
    ("air_cold", "seal", {"air_c": 11.0}, Product()),
    ("air_cold", "seal", {}, Product(low_c=19)),
    ("surface_hot", "seal", {"air_c": 24.0, "sun_w_m2": 900.0}, Product()),
    ("surface_cold", "seal", {"air_c": 11.0}, Product()),
    ("air_hot", "seal", {}, Product(high_c=15)),
    ("wind", "seal", {"wind_kmh": 40.0}, Product()),
    ("dark", "seal", {}, Product()),
    ("damp", "colour", {"rain": (90, 91, 92)}, Product()),
]


@pytest.mark.parametrize(("code", "work", "scene", "label"), REASONS)
def test_each_reason_is_told_where_it_holds(
    code: str, work: Any, scene: dict[str, Any], label: Product
) -> None:
    pour = make(**(MILD | scene))
    pour = pour if work == "wash" else washed(pour, products={work: label})
    at_h = 20 if work == "wash" else WASHED_AT
    assert out_hours(ahead(pour, work, at_h=at_h), [code])


def test_the_labels_word_stands_over_practice_and_is_marked() -> None:
    work = ahead(washed(make(**MILD), products={"seal": Product(low_c=4.0, coats=3)}), "seal")
    marks = {name: limit.from_label for name, limit in work.needs.limits.items()}
    assert (marks["low_c"], marks["coats"], marks["over_dew_k"]) == (True, True, False)


def test_later_coats_keep_their_distance_from_the_coat_before() -> None:
    pour = make(**MILD)
    laid = start(pour) + 84 * HOUR
    done = Done(washes=(start(pour) + WASHED_AT * HOUR,), coats=(Coat(1, laid),))
    label = Product(coats=3, recoat_least_h=20, recoat_most_h=40, least_age_h=24)
    told = replace(pour, later=Later(done=done, products={"seal": label}))
    second, third = ahead(told, "seal", 2, 85), ahead(told, "seal", 3, 85)
    assert second.opens == laid + 20 * HOUR
    assert second.shuts == laid + 40 * HOUR
    assert max(out_hours(second, ["recoat_early"])) < laid + 20 * HOUR
    assert min(out_hours(second, ["recoat_late"])) >= laid + 39 * HOUR
    assert third.after is not None
    assert third.after.at is not None
    assert third.after.at >= second.slots[0].starts
    assert {one.coat for one in forecast(told, laid + HOUR).days.works if one.work == "seal"} == {2, 3}


def test_a_kept_slot_that_rain_reaches_says_so_and_offers_the_next_best() -> None:
    dry = washed(make(**MILD))
    best = ahead(dry, "seal").slots[0]
    kept = KeptSlot("seal", 1, best.starts, best.ends)
    holds = ahead(washed(make(**MILD), kept=(kept,)), "seal").kept
    assert holds is not None
    assert (holds.out, holds.known) == ((), True)
    index = int((best.starts - start(dry)) / HOUR)
    rained = ahead(washed(make(**(MILD | {"rain": (index + 1,)})), kept=(kept,)), "seal").kept
    assert rained is not None
    assert "rain" in {why.code for run in rained.out for why in run.why}
    assert rained.next_best is None or rained.next_best.starts > best.starts


def test_what_is_done_is_no_longer_ahead() -> None:
    pour = make(**MILD)
    done = Done((start(pour) + 38 * HOUR,), (start(pour) + 60 * HOUR,))
    works = forecast(replace(pour, later=Later(done=done)), start(pour) + 62 * HOUR).days.works
    assert [(one.work, one.coat) for one in works] == [("seal", 1), ("seal", 2)]
    assert works[0].after is not None
    assert (works[0].after.work, works[0].after.done) == ("colour", True)


drawn = st.fixed_dictionaries(
    {
        "air_c": st.floats(6, 30),
        "rh": st.floats(0.3, 0.95),
        "wind_kmh": st.floats(0, 35),
        "sun_w_m2": st.floats(100, 900),
        "rain": st.sets(st.integers(40, 120), max_size=4).map(lambda hours: tuple(sorted(hours))),
    }
)


def fit(pour: Pour, work: str) -> set[datetime]:
    told = ahead(pour, work)
    first = start(pour) + WASHED_AT * HOUR
    hours = {first + n * HOUR for n in range(144 - WASHED_AT)}
    return hours - out_hours(told)


@settings(max_examples=12, deadline=None)
@given(scene=drawn, asked=st.floats(0, 6), more=st.floats(0, 6))
def test_a_wider_dew_spread_never_adds_an_hour(scene: dict[str, Any], asked: float, more: float) -> None:
    pour = make(**(MILD | scene))
    narrow = fit(washed(pour, products={"seal": Product(over_dew_k=asked)}), "seal")
    assert fit(washed(pour, products={"seal": Product(over_dew_k=asked + more)}), "seal") <= narrow


@settings(max_examples=12, deadline=None)
@given(scene=drawn, hour=st.integers(40, 130), work=st.sampled_from(["colour", "seal"]))
def test_rain_never_adds_an_hour(scene: dict[str, Any], hour: int, work: str) -> None:
    pour = washed(make(**(MILD | scene)))
    hourly = list(pour.weather.hourly)
    hourly[hour] = replace(hourly[hour], rain_mm=hourly[hour].rain_mm + 2.0)
    assert fit(replace(pour, weather=Weather(tuple(hourly))), work) <= fit(pour, work)
