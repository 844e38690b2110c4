"""Notices come when they should and stay away when they should; slots keep to their needs."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from slabtide.engine import Pour, Timeline, forecast
from slabtide.engine.contract import default_at
from slabtide.engine.humidity import dew_point_c
from slabtide.engine.notice_wording import KEYS, notice_words
from slabtide.engine.pour import Saw

MakePour = Callable[..., Pour]
VECTORS = Path(__file__).parents[1] / "vectors"


def seen(pour: Pour) -> Timeline:
    return forecast(pour, default_at(pour))


def codes(pour: Pour) -> set[str]:
    return {notice.code for notice in seen(pour).warnings}


CASES: list[tuple[str, dict[str, Any]]] = [
    ("evaporation_high", {"air_c": 32.0, "rh": 0.15, "wind_kmh": 35.0, "concrete_c": 32.0}),
    ("crusting", {"air_c": 32.0, "rh": 0.15, "wind_kmh": 35.0, "concrete_c": 32.0}),
    ("cold_concrete", {"concrete_c": 9.0}),
    ("hot_concrete", {"concrete_c": 37.0}),
    ("cold_air", {"air_c": 0.0, "concrete_c": 18.0}),
    ("freezing", {"air_c": -12.0, "concrete_c": 8.0, "sun_w_m2": 50.0, "insulation": 0.0, "ground_c": 1.0}),
    ("frozen_ground", {"ground_c": -2.0}),
    ("rain", {"rain": (10, 11)}),
    ("heat_stress", {"air_c": 34.0, "rh": 0.6}),
    ("no_sun_given", {"sun_w_m2": 0.0}),
    ("weather_ends", {"hours": 60}),
    ("first_night_drop", {"sun_w_m2": 900.0, "swing_c": 9.0}),
    (
        "no_safe_window",
        {"air_c": -12.0, "concrete_c": 6.0, "sun_w_m2": 50.0, "insulation": 0.0, "ground_c": 1.0},
    ),
]


@pytest.mark.parametrize(("code", "scene"), CASES)
def test_a_notice_comes_when_it_should(make_pour: MakePour, code: str, scene: dict[str, Any]) -> None:
    assert code in codes(make_pour(**scene))


def test_a_mild_day_brings_none_of_the_warnings_of_the_pour_itself(make_pour: MakePour) -> None:
    mild = codes(make_pour(air_c=19.0, swing_c=3.0, rh=0.75, wind_kmh=6.0, sun_w_m2=350.0, hours=145))
    assert mild <= {"first_night_drop"}


def test_rain_after_set_is_no_matter_and_before_placing_neither(make_pour: MakePour) -> None:
    assert "rain" not in codes(make_pour(rain=(2, 3, 40, 41)))


def test_a_notice_tells_its_span_and_its_load(make_pour: MakePour) -> None:
    pour = make_pour(loads=2, rain=(10,), concrete_c=37.0)
    notices = seen(pour).warnings
    assert all(notice.starts <= notice.ends for notice in notices)
    assert {notice.load for notice in notices if notice.code == "hot_concrete"} == {"1", "2"}
    assert {notice.load for notice in notices if notice.code == "rain"} == {None}
    assert all(notice.text.endswith(".") for notice in notices)


def test_freezing_takes_the_texturing_window_and_says_so(make_pour: MakePour) -> None:
    scene = dict(CASES)["no_safe_window"]
    timeline = seen(make_pour(**scene))
    assert timeline.loads[0].windows["texture"] is None
    told = [notice.text for notice in timeline.warnings if notice.code == "no_safe_window"]
    assert any("texturing" in text and "freeze" in text for text in told)


def test_an_early_entry_saw_goes_in_sooner(make_pour: MakePour) -> None:
    plain = seen(make_pour()).loads[0].windows["saw"]
    early = seen(make_pour(saw=Saw("early-entry", 20.0, 1.0))).loads[0].windows["saw"]
    assert plain is not None
    assert early is not None
    assert early.opens.likely < plain.opens.likely


def test_slots_keep_from_rain_heat_and_dew(make_pour: MakePour) -> None:
    wet = (70, 71, 72)
    pour = make_pour(air_c=16.0, swing_c=5.0, sun_w_m2=450.0, rain=wet)
    timeline = seen(pour)
    hourly = {hour.at: hour for hour in pour.weather.hourly}
    assert timeline.slots["wash"]
    assert timeline.slots["seal"]
    rains = [pour.weather.hourly[i].at for i in wet]
    for name, dry_h in (("colour", 12), ("seal", 24)):
        for slot in timeline.slots[name]:
            assert slot.starts < slot.ends
            for rain in rains:
                assert not slot.starts - timedelta(hours=dry_h) <= rain <= slot.ends + timedelta(hours=dry_h)
    for slot in timeline.slots["seal"]:
        hour = hourly[slot.starts]
        assert 10.0 <= hour.air_temp_c <= 32.0
        assert dew_point_c(hour.air_temp_c, hour.rh) < hour.air_temp_c


def test_slots_come_after_the_least_age_of_every_load(make_pour: MakePour) -> None:
    timeline = seen(make_pour(air_c=16.0, sun_w_m2=450.0, loads=2))
    for name in ("wash", "colour", "seal"):
        opens = [load.windows[name] for load in timeline.loads]
        latest = max(window.opens.likely for window in opens if window is not None)
        assert timeline.slots[name]
        assert all(slot.starts >= latest for slot in timeline.slots[name])


def test_a_muggy_night_and_day_leave_no_slot_to_seal(make_pour: MakePour) -> None:
    timeline = seen(make_pour(air_c=20.0, swing_c=0.5, rh=0.99, sun_w_m2=40.0))
    assert timeline.slots["seal"] == ()


def test_the_first_night_is_told_with_how_far_the_surface_falls(make_pour: MakePour) -> None:
    told = [n for n in seen(make_pour(sun_w_m2=900.0, swing_c=9.0)).warnings if n.code == "first_night_drop"]
    peak, coldest = told[0].params["peak_c"], told[0].params["coldest_c"]
    assert isinstance(peak, float)
    assert isinstance(coldest, float)
    assert peak - coldest >= 8.3
    assert f"{peak:.0f} °C" in told[0].text


@pytest.mark.parametrize(("code", "scene"), CASES)
def test_words_rest_on_params_alone(make_pour: MakePour, code: str, scene: dict[str, Any]) -> None:
    zone = ZoneInfo("America/Chicago")
    for notice in seen(make_pour(**scene)).warnings:
        assert notice_words(notice.code, notice.params, notice.starts, zone) == notice.text
        assert "nan" not in notice.text


SPOKEN: dict[str, dict[str, Any]] = json.loads((VECTORS / "notices.json").read_text(encoding="utf-8"))


def test_the_samples_that_phones_are_tested_with_are_all_that_the_engine_can_say() -> None:
    assert set(SPOKEN) == KEYS


@pytest.mark.parametrize("key", SPOKEN)
def test_every_notice_can_be_said_from_its_sample(key: str) -> None:
    code, _, case = key.partition(".")
    sample = {name: tuple(v) if isinstance(v, list) else v for name, v in SPOKEN[key].items()}
    params = sample | ({"case": case} if case else {})
    words = notice_words(code, params, datetime(2026, 7, 14, 14, tzinfo=UTC), UTC)
    assert words.endswith(".")
    assert "nan" not in words
