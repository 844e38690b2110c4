"""Real weather, day after day: no window inverted, none missing without a word why."""

import random
from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from tests.engine.year import DAYS, pour_on

from slabtide.engine import Pour, Timeline, forecast
from slabtide.engine.contract import write_timeline
from slabtide.engine.pour import Cover, SawKind, Weather

KINDS: tuple[SawKind, ...] = ("conventional", "early-entry")


def seen(pour: Pour) -> Timeline:
    return forecast(pour, pour.loads[0].batched_at)


def codes(timeline: Timeline) -> list[str]:
    return [notice.code for notice in timeline.warnings]


def hold_in_order(timeline: Timeline) -> None:
    for load in timeline.loads:
        missing = [name for name, window in load.windows.items() if window is None]
        assert bool(missing) == ("no_safe_window" in codes(timeline))
        assert load.saw_practice.opens <= load.saw_practice.closes
        for window in load.windows.values():
            if window is not None and window.closes is not None:
                for share in ("early", "likely", "late"):
                    assert getattr(window.opens, share) <= getattr(window.closes, share)


@pytest.mark.parametrize("day", sorted(random.Random(2026).sample(list(DAYS), 24)))
def test_a_day_of_the_year_has_its_windows_or_says_why_not(day: int) -> None:
    draw = random.Random(day)
    pour = pour_on(day, KINDS[day % 2], draw.randint(6, 15), draw.choice([0.09, 0.115, 0.15]))
    timeline = seen(pour)
    hold_in_order(timeline)
    saw = timeline.loads[0].windows["saw"]
    assert saw is not None
    if "freezing" not in codes(timeline):
        texture = timeline.loads[0].windows["texture"]
        assert texture is not None or "rain" in codes(timeline)


def in_weather(pour: Pour, **changes: Any) -> Pour:
    """The pour with every hour's weather changed alike."""
    return replace(pour, weather=Weather(tuple(replace(h, **changes) for h in pour.weather.hourly)))


def why_closed(timeline: Timeline) -> str:
    hold_in_order(timeline)
    assert timeline.loads[0].windows["texture"] is None
    return " ".join(notice.text for notice in timeline.warnings if notice.code == "no_safe_window")


def test_frost_leaves_no_window_and_says_so() -> None:
    cold = in_weather(pour_on(20), air_temp_c=-12.0, solar_w_m2=0.0, wind_kmh=20.0, rain_mm=0.0)
    assert "freeze" in why_closed(seen(cold))


def test_blankets_bring_a_frosty_night_back() -> None:
    cold = in_weather(pour_on(20), air_temp_c=-6.0, solar_w_m2=0.0, wind_kmh=10.0, rain_mm=0.0)
    load = cold.loads[0]
    kept = replace(
        cold, covers=(Cover(load.placed_to, load.placed_to + timedelta(hours=72), "blanket", 1.0),)
    )
    assert "freezing" in codes(seen(cold))
    assert "freezing" not in codes(seen(kept))


def rained_on(pour: Pour, hour: int, mm: float) -> Pour:
    told = [replace(h, rain_mm=mm if i == hour else 0.0) for i, h in enumerate(pour.weather.hourly)]
    return replace(pour, weather=Weather(tuple(told)))


def test_rain_on_fresh_concrete_leaves_no_window_and_says_so() -> None:
    assert "rained on" in why_closed(seen(rained_on(pour_on(170), 9, 6.0)))


def test_rain_under_a_sheet_does_no_harm() -> None:
    wet = rained_on(pour_on(170), 9, 6.0)
    start = wet.weather.hourly[9].at - timedelta(minutes=5)
    kept = replace(wet, covers=(Cover(start, start + timedelta(minutes=70), "sheet", 0.02),))
    assert seen(kept).loads[0].windows["texture"] is not None


@pytest.mark.parametrize(("hour", "mm"), [(7, 6.0), (20, 6.0), (9, 0.4)])
def test_rain_before_after_or_too_little_to_harm_takes_no_window(hour: int, mm: float) -> None:
    assert seen(rained_on(pour_on(170), hour, mm)).loads[0].windows["texture"] is not None


def test_rain_inside_the_window_ends_it() -> None:
    dry = seen(rained_on(pour_on(110), 9, 0.0)).loads[0].windows["texture"]
    assert dry is not None
    assert dry.closes is not None
    hour = pour_on(110).weather.hourly.index(
        next(h for h in pour_on(110).weather.hourly if h.at > dry.opens.likely)
    )
    wet = seen(rained_on(pour_on(110), hour, 5.0)).loads[0].windows["texture"]
    assert wet is not None
    assert wet.closes is not None
    assert wet.closes.late <= pour_on(110).weather.hourly[hour].at < dry.closes.late


def test_air_that_dries_faster_than_can_be_worked_leaves_no_window_and_says_so() -> None:
    desert = in_weather(
        pour_on(190, begins_h=11), air_temp_c=38.0, rh=0.08, wind_kmh=55.0, solar_w_m2=900.0, rain_mm=0.0
    )
    assert "dry too fast" in why_closed(seen(desert))
    assert "evaporation_high" in codes(seen(desert))


def test_a_missing_window_is_null_in_the_answer() -> None:
    answer: Any = write_timeline(seen(rained_on(pour_on(170), 9, 6.0)))
    assert answer["loads"][0]["windows"]["texture"] is None
    assert answer["loads"][0]["windows"]["saw"] is not None


def once_placed(pour: Pour) -> Timeline:
    return forecast(pour, pour.loads[0].placed_to)


def test_rain_told_before_placing_takes_the_window_and_the_same_rain_told_after_it_does_not() -> None:
    wet = rained_on(pour_on(170), 9, 1.0)
    dry = once_placed(rained_on(pour_on(170), 9, 0.0)).loads[0].windows["texture"]
    assert seen(wet).loads[0].windows["texture"] is None
    assert once_placed(wet).loads[0].windows["texture"] == dry
    assert dry is not None


def test_rain_on_placed_concrete_is_told_loud_with_its_hour_and_what_to_do() -> None:
    wet = rained_on(pour_on(170), 9, 3.0)
    told = [notice for notice in once_placed(wet).warnings if notice.code == "rain_on_placed"]
    assert [notice.starts for notice in told] == [wet.weather.hourly[9].at]
    assert told[0].params == {"case": "fresh", "rain_mm": 3.0, "rain_mm_h": 3.0}
    assert "10:00 am" in told[0].text
    assert "Sheets on" in told[0].text
    assert "rain" not in codes(once_placed(wet))


@pytest.mark.parametrize(("covered", "mm"), [(True, 6.0), (False, 0.5)])
def test_rain_under_a_sheet_or_too_little_to_harm_is_not_told_loud(covered: bool, mm: float) -> None:
    wet = rained_on(pour_on(170), 9, mm)
    start = wet.weather.hourly[9].at - timedelta(minutes=5)
    sheet = Cover(start, start + timedelta(minutes=70), "sheet", 0.02)
    told = once_placed(replace(wet, covers=(sheet,) if covered else ()))
    assert "rain_on_placed" not in codes(told)
    assert ("rain" in codes(told)) is not covered


def test_frost_and_drying_leave_placed_concrete_its_times_and_are_told_loud() -> None:
    cold = in_weather(pour_on(20), air_temp_c=-12.0, solar_w_m2=0.0, wind_kmh=20.0, rain_mm=0.0)
    desert = in_weather(
        pour_on(190, begins_h=11), air_temp_c=38.0, rh=0.08, wind_kmh=55.0, solar_w_m2=900.0, rain_mm=0.0
    )
    assert "frost_on_placed" in codes(once_placed(cold))
    assert "freezing" not in codes(once_placed(cold))
    assert "drying_on_placed" in codes(once_placed(desert))
    assert once_placed(desert).loads[0].windows["texture"] is not None


def test_two_spells_of_rain_are_told_apart() -> None:
    pour = pour_on(170)
    told = [replace(h, rain_mm=2.0 if i in (9, 11) else 0.0) for i, h in enumerate(pour.weather.hourly)]
    wet = replace(pour, weather=Weather(tuple(told)))
    starts = [notice.starts for notice in once_placed(wet).warnings if notice.code == "rain_on_placed"]
    assert starts == [wet.weather.hourly[9].at, wet.weather.hourly[11].at]
