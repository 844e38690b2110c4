"""The output contract: keys, times in the pour's zone, nothing JSON can't say."""

import json
from collections.abc import Callable
from datetime import datetime, timedelta
from itertools import pairwise
from typing import Any

from slabtide.engine import Pour, forecast
from slabtide.engine.contract import default_at, write_timeline


def written(pour: Pour) -> dict[str, Any]:
    data: dict[str, Any] = write_timeline(forecast(pour, default_at(pour)))
    return data


def test_the_keys_are_those_of_the_contract(sample_pour: Pour) -> None:
    data = written(sample_pour)
    assert list(data) == [
        "version",
        "loads",
        "pace",
        "slots",
        "days_ahead",
        "saw_plan",
        "mix",
        "warnings",
    ]
    load = data["loads"][0]
    assert list(load) == ["id", "windows", "learned", "saw_practice", "curve"]
    assert list(load["saw_practice"]) == ["opens", "closes", "surface_drop", "source"]
    assert list(load["windows"]) == ["edge", "mag", "texture", "saw", "wash", "colour", "seal"]
    assert list(load["windows"]["texture"]) == ["opens", "closes"]
    assert list(load["windows"]["texture"]["opens"]) == ["early", "likely", "late"]
    assert load["windows"]["seal"]["closes"] is None
    assert list(load["curve"][0]) == [
        "at",
        "surface_temp_c",
        "mean_temp_c",
        "equivalent_age_h",
        "penetration_mpa",
        "strength_mpa",
        "stress_ratio",
        "evaporation_kg_m2_h",
    ]
    assert list(data["slots"]) == ["wash", "colour", "seal"]
    numbers = ["air_c", "over_dew_k", "wind_kmh", "no_rain_h", "no_rain_asked_h"]
    assert list(data["slots"]["wash"][0]) == ["from", "to", "reason", *numbers]
    assert list(data["days_ahead"]) == ["from", "to", "works", "drying"]
    assert data["saw_plan"] is None


def test_a_notice_has_its_code_its_load_and_its_span(make_pour: Callable[..., Pour]) -> None:
    notices = written(make_pour(concrete_c=38.0))["warnings"]
    assert notices
    assert all(list(notice) == ["code", "load", "from", "to", "text", "params"] for notice in notices)


def test_it_is_json_and_comes_back_the_same(sample_pour: Pour) -> None:
    data = written(sample_pour)
    assert json.loads(json.dumps(data, allow_nan=False)) == data


def test_times_carry_the_zone_of_the_pour(sample_pour: Pour) -> None:
    data = written(sample_pour)
    times = [data["loads"][0]["windows"]["saw"]["opens"]["likely"], data["loads"][1]["curve"][-1]["at"]]
    assert all(time.endswith("-05:00") for time in times)


def test_the_curve_has_five_minutes_for_a_day_then_half_hours_to_120_h(sample_pour: Pour) -> None:
    times = [datetime.fromisoformat(point["at"]) for point in written(sample_pour)["loads"][0]["curve"]]
    steps = [after - before for before, after in pairwise(times)]
    assert steps == [timedelta(minutes=5)] * 288 + [timedelta(minutes=30)] * 192
