"""What was solved before is what would be solved now: it moves no digit, and stays within bounds."""

from collections.abc import Callable, Iterator, Sequence
from copy import deepcopy
from dataclasses import fields, replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.engine.born import born
from tests.engine.conftest import MakePour
from tests.phone.drawn import likely

from slabtide.engine import Pour, forecast, learned, runs
from slabtide.engine.changes import LoadArea
from slabtide.engine.column import slab_column
from slabtide.engine.contract import default_at, read_pour, write_timeline
from slabtide.engine.covers import CoverSpan
from slabtide.engine.forcing import Forcing, hourly_forcing
from slabtide.engine.history import HORIZON_S, History, felt, follow
from slabtide.engine.learning import Belief, Lesson, learn
from slabtide.engine.load_state import LoadState
from slabtide.engine.pour import SurfaceCheck
from slabtide.engine.readings import Reading
from slabtide.engine.solved import MOST_KEPT, Solved
from slabtide.engine.timeline import WindowName
from slabtide.engine.what_if import what_if
from slabtide.engine.windows import SURFACE_WORK, Band, surface_bands

MINUTE = timedelta(minutes=1)
SERIES = tuple(field.name for field in fields(History))


def alike(one: History, other: History) -> bool:
    return all(getattr(one, name) == getattr(other, name) for name in SERIES)


class Heat:
    """Counts the histories that are solved."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.solved = 0

        def counted(*asked: Any) -> History:
            self.solved += 1
            return follow(*asked)

        monkeypatch.setattr(runs, "follow", counted)

    def of(self, work: Callable[[], object]) -> int:
        """How many a piece of work takes."""
        before = self.solved
        work()
        return self.solved - before


@pytest.fixture
def heat(monkeypatch: pytest.MonkeyPatch) -> Heat:
    return Heat(monkeypatch)


@settings(max_examples=8, deadline=None)
@given(seeds=st.lists(st.integers(0, 10_000), min_size=1, max_size=2), minutes=st.integers(0, 300))
def test_a_forecast_is_the_same_to_the_last_digit_with_what_was_solved_before(
    seeds: list[int], minutes: int
) -> None:
    solved = Solved()
    for question in map(likely, seeds):
        pour, first = read_pour(question["pour"]), datetime.fromisoformat(question["at"])
        fewer = replace(pour, checks=pour.checks[:-1])
        for asked, at in ((fewer, first), (pour, first + MINUTE), (pour, first + minutes * MINUTE)):
            told = forecast(asked, at, solved)
            plain = forecast(asked, at)
            assert repr(told) == repr(plain)
            assert write_timeline(told, solved) == write_timeline(plain)


def checked(pour: Pour, at: datetime) -> Pour:
    """The pour with one more print, deeper than expected, on its first load."""
    check = SurfaceCheck(pour.loads[0].id, at, "footprint", 14.0)
    return replace(pour, checks=(*pour.checks, check))


@pytest.mark.parametrize("count", [1, 4])
def test_a_check_solves_no_heat_anew_but_how_far_the_weather_spreads_once_an_hour(
    make_pour: MakePour, heat: Heat, count: int
) -> None:
    pour, solved = make_pour(loads=count), Solved()
    at = default_at(pour)
    assert heat.of(lambda: forecast(pour, at, solved)) == 4 * count
    after = checked(pour, at + MINUTE)
    assert heat.of(lambda: forecast(after, at + MINUTE, solved)) == 0
    later = at.replace(minute=0) + timedelta(hours=1)
    assert heat.of(lambda: forecast(after, later - MINUTE, solved)) == 0
    assert heat.of(lambda: forecast(after, later, solved)) == 2 * count, "cooler and warmer rest on the hour"


def test_a_check_more_weighs_no_earlier_ones_anew(
    make_pour: MakePour, monkeypatch: pytest.MonkeyPatch
) -> None:
    weighed: list[int] = []
    read: list[str] = []

    def counted(prior: Belief, loads: Sequence[str], readings: Sequence[Reading]) -> Lesson:
        weighed.append(len(readings))
        return learn(prior, loads, readings)

    def noted(state: LoadState, names: Sequence[WindowName] = SURFACE_WORK) -> dict[WindowName, Band]:
        read.append(state.load.id)
        return surface_bands(state, names)

    monkeypatch.setattr(runs, "learn", counted)
    monkeypatch.setattr(learned, "surface_bands", noted)
    pour, solved = make_pour(loads=3), Solved()
    at = max(load.placed_to for load in pour.loads).replace(minute=0) + timedelta(hours=1)
    for load in pour.loads * 2:
        at += MINUTE
        pour = replace(pour, checks=(*pour.checks, SurfaceCheck(load.id, at, "footprint", 14.0)))
        weighed.clear()
        read.clear()
        told = forecast(pour, at, solved)
        assert weighed == ([1, 0] if len(pour.checks) == 1 else [len(pour.checks)])
        assert sorted(read) == ["1", "2", "3"], "each load once: by what was known before this check"
        assert repr(told) == repr(forecast(pour, at))


def test_a_load_more_solves_its_own_heat_alone(make_pour: MakePour, heat: Heat) -> None:
    pour, solved = make_pour(loads=4), Solved()
    at, fewer = default_at(pour), replace(pour, loads=pour.loads[:3])
    forecast(fewer, at, solved)
    assert heat.of(lambda: forecast(pour, at + MINUTE, solved)) == 4


def test_more_weather_at_the_far_end_solves_no_heat_anew(make_pour: MakePour, heat: Heat) -> None:
    longer, solved = make_pour(hours=160), Solved()
    shorter = replace(longer, weather=replace(longer.weather, hourly=longer.weather.hourly[:-6]))
    at = default_at(longer)
    forecast(shorter, at, solved)
    assert heat.of(lambda: forecast(longer, at, solved)) == 0


def test_what_if_solves_what_a_change_leaves_alone_once(make_pour: MakePour, heat: Heat) -> None:
    pour = make_pour(loads=2)
    at = pour.loads[0].batched_at - timedelta(hours=2)
    change = LoadArea(pour.loads[1].id, pour.loads[1].area_m2 / 2.0)
    assert heat.of(lambda: what_if(pour, at, [change])) == 4 * 2


def test_hours_past_its_end_are_not_felt(make_pour: MakePour) -> None:
    pour = make_pour(hours=200)
    birth, column = born(pour), slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    hours = hourly_forcing(pour.weather.hourly, 0.65, default_at(pour), 2.0)
    for late_s in (0, 1, 1800, 3599):
        placed = replace(birth, start_s=birth.start_s // 3600 * 3600 + late_s)
        few = felt(placed, hours)
        assert len(few) < len(hours)
        history = follow(placed, pour.mix, column, few)
        assert alike(history, follow(placed, pour.mix, column, hours))
        assert history.times_s[-1] - placed.start_s > HORIZON_S - 3600


def changed(value: Any) -> Any:
    """Another value of the same kind."""
    if isinstance(value, str):
        return f"{value}, another"
    if isinstance(value, tuple):
        return (*value, value[-1]) if value else (1.0,)
    return value + 1 if isinstance(value, int | float) else 1800


def told_otherwise(asked: tuple[Any, ...]) -> Iterator[tuple[str, tuple[Any, ...]]]:
    """The input of a history with one thing in it changed: every field of every part in its turn."""
    for place, part in enumerate(asked):
        if isinstance(part, tuple) and not hasattr(part, "_fields"):
            hour = part[3]
            for name in Forcing._fields:
                other = hour._replace(**{name: changed(getattr(hour, name))})
                yield f"hour {name}", (*asked[:place], (*part[:3], other, *part[4:]), *asked[place + 1 :])
            yield "an hour less", (*asked[:place], part[:-1], *asked[place + 1 :])
        elif hasattr(part, "__dataclass_fields__"):
            for field in fields(part):
                other = replace(part, **{field.name: changed(getattr(part, field.name))})
                yield f"{type(part).__name__} {field.name}", (*asked[:place], other, *asked[place + 1 :])
        else:
            yield f"place {place}", (*asked[:place], changed(part), *asked[place + 1 :])


def test_an_input_changed_in_any_field_is_solved_anew(make_pour: MakePour) -> None:
    pour = make_pour()
    cover = CoverSpan(7200, 9000, "blanket", 0.5)
    birth, column = born(pour, [cover]), slab_column(0.12, 0.9)
    hours = felt(birth, hourly_forcing(pour.weather.hourly, 0.65, default_at(pour), 0.0))
    asked = (birth, pour.mix, column, hours, None, 1800)
    seen: list[tuple[Any, ...]] = []

    def solving(*given: Any) -> int:
        seen.append(given)
        return len(seen)

    others = [*told_otherwise(asked)]
    for field in fields(cover):
        other = replace(cover, **{field.name: changed(getattr(cover, field.name))})
        others.append((f"cover {field.name}", (replace(birth, covers=(other,)), *asked[1:])))
    solved = Solved(most=len(others) + 1)
    assert solved.of(solving, *asked) == 1
    assert len(others) > 40
    for count, (name, other) in enumerate(others, start=2):
        assert solved.of(solving, *other) == count, f"{name} was not heeded"
    assert solved.of(solving, *asked) == 1, "and what was asked first is still there"
    assert len(seen) == len(others) + 1


def test_another_function_of_the_same_input_has_its_own_answer() -> None:
    solved = Solved()
    assert solved.of(abs, -3) == 3
    assert solved.of(str, -3) == "-3"


def test_no_more_is_kept_than_was_said_and_the_latest_used_stays() -> None:
    solved, worked = Solved(most=3), []

    def work(number: int) -> int:
        worked.append(number)
        return number

    for number in (1, 2, 3, 1, 4, 1, 5, 1):
        assert solved.of(work, number) == number
        assert len(solved) <= 3
    assert worked == [1, 2, 3, 4, 5], "1 was used all along"
    assert solved.of(work, 2) == 2
    assert worked[-1] == 2, "2 had to go"


def test_a_store_too_small_gives_the_same_answer(make_pour: MakePour) -> None:
    pour, small = make_pour(loads=2), Solved(most=1)
    at = default_at(pour)
    large = Solved()
    assert repr(forecast(pour, at, small)) == repr(forecast(pour, at, large))
    assert len(small) < len(large) / 2


def test_a_day_of_entries_stays_within_bounds(make_pour: MakePour) -> None:
    pour, solved = make_pour(loads=2), Solved()
    at = default_at(pour)
    for turn in range(12):
        forecast(pour, at + turn * MINUTE, solved)
    assert len(solved) <= MOST_KEPT


def test_nothing_changes_a_history_that_is_kept(make_pour: MakePour, monkeypatch: pytest.MonkeyPatch) -> None:
    found: list[tuple[History, History]] = []

    def noted(*asked: Any) -> History:
        history = follow(*asked)
        found.append((history, deepcopy(history)))
        return history

    monkeypatch.setattr(runs, "follow", noted)
    pour, solved = make_pour(loads=2, rain=(20,)), Solved()
    at = default_at(pour)
    write_timeline(forecast(checked(pour, at), at, solved), solved)
    assert len(found) == 8
    assert all(alike(history, copy) for history, copy in found)
