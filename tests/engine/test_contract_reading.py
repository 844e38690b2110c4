"""The input contract: what is sound is read, what is not is refused with its path."""

import copy
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from slabtide.engine.contract import ContractError, default_at, read_pour
from slabtide.engine.pour import Mix


def put(data: dict[str, Any], path: str, value: object) -> None:
    *way, last = path.split("/")
    target: Any = data
    for step in way:
        target = target[int(step) if step.isdigit() else step]
    target[int(last) if last.isdigit() else last] = value


def cut(data: dict[str, Any], path: str) -> None:
    *way, last = path.split("/")
    target: Any = data
    for step in way:
        target = target[int(step) if step.isdigit() else step]
    del target[last]


def test_the_sample_is_read_whole(sample: dict[str, Any]) -> None:
    pour = read_pour(sample)
    assert [load.id for load in pour.loads] == ["1", "2"]
    assert len(pour.weather.hourly) == len(sample["weather"]["hourly"]) >= 130
    assert pour.checks[0].depth_mm == 8
    assert default_at(pour) == pour.checks[0].at


def test_mix_checks_texturing_and_saw_may_be_left_out(sample: dict[str, Any]) -> None:
    for key in ("mix", "checks", "texturing", "saw"):
        del sample[key]
    pour = read_pour(sample)
    assert pour.mix == Mix()
    assert (pour.checks, pour.texturing, pour.saw) == ((), None, None)
    assert default_at(pour) == pour.loads[0].batched_at


@pytest.mark.parametrize("key", ["wind_height_m", "cloud", "solar_w_m2", "rain_mm"])
def test_weather_keys_with_a_default_may_be_left_out(sample: dict[str, Any], key: str) -> None:
    for hour in sample["weather"]["hourly"]:
        del hour[key]
    assert read_pour(sample).weather.hourly[0].wind_height_m == 10.0


WRONG = [
    ("version", 2, "version", "one of 1"),
    ("version", True, "version", "one of 1"),
    ("time_zone", "America/Nowhere", "time_zone", "IANA"),
    ("time_zone", "../etc/passwd", "time_zone", "IANA"),
    ("time_zone", 5, "time_zone", "IANA"),
    ("surprise", 1, "surprise", "unknown key"),
    ("slab/surprise", 1, "slab.surprise", "unknown key"),
    ("loads/0/colour", "red", "loads[0].colour", "unknown key"),
    ("weather/hourly/3/gust", 1, "weather.hourly[3].gust", "unknown key"),
    ("slab/area_m2", -3, "slab.area_m2", "-3 is outside 0.5 to 5000 m2"),
    ("slab/area_m2", True, "slab.area_m2", "not a number"),
    ("slab/area_m2", "52", "slab.area_m2", "not a number"),
    ("slab/area_m2", None, "slab.area_m2", "not a number"),
    ("slab/area_m2", float("nan"), "slab.area_m2", "finite"),
    ("slab/area_m2", float("inf"), "slab.area_m2", "finite"),
    ("slab/area_m2", 10**400, "slab.area_m2", "outside 0.5 to 5000 m2"),
    ("slab", [], "slab", "not an object"),
    ("mix/set_factor_sd", -0.1, "mix.set_factor_sd", "0 to 0.6"),
    ("mix/aggregate", "granite", "mix.aggregate", "crushed-hard"),
    ("mix", None, "mix", "not an object"),
    ("loads", [], "loads", "1 to 50"),
    ("loads", {}, "loads", "not a list"),
    ("loads/0/concrete_temp_c", 60, "loads[0].concrete_temp_c", "60 is outside 2 to 45 °C"),
    ("loads/0/batched_at", "2026-06-04T06:35:00", "loads[0].batched_at", "no UTC offset"),
    ("loads/0/batched_at", "yesterday", "loads[0].batched_at", "not a time"),
    ("loads/0/batched_at", 1780000000, "loads[0].batched_at", "not a time"),
    ("loads/0/batched_at", "2026-06-04T07:20:00-05:00", "loads[0].placed_from", "before batched_at"),
    ("loads/0/batched_at", "2026-06-03T20:20:00-05:00", "loads[0].placed_from", "6 h"),
    ("loads/0/placed_to", "2026-06-04T07:00:00-05:00", "loads[0].placed_to", "before placed_from"),
    ("loads/0/placed_to", "2026-06-04T12:00:00-05:00", "loads[0].placed_to", "4 h"),
    ("loads/0/id", "", "loads[0].id", "1 to 80 characters"),
    ("loads/1/id", "1", "loads[1].id", "stands twice"),
    ("checks/0/load", "9", "checks[0].load", "one of 1, 2"),
    ("checks/0/kind", "finger", "checks[0].kind", "footprint"),
    ("checks/0/depth_mm", -1, "checks[0].depth_mm", "0 to 100 mm"),
    ("texturing/people", 2.5, "texturing.people", "whole number"),
    ("texturing/people", 0, "texturing.people", "1 to 50"),
    ("saw/kind", "chain", "saw.kind", "conventional"),
    ("saw/length_m", -1, "saw.length_m", "0 to 5000 m"),
    ("weather/hourly/0/rh", 65, "weather.hourly[0].rh", "0 to 1"),
    ("weather/hourly/5/at", "2026-06-04T05:30:00-05:00", "weather.hourly[5].at", "one hour after"),
    ("weather/hourly", [], "weather.hourly", "2 to"),
]


@pytest.mark.parametrize(("path", "value", "named", "words"), WRONG)
def test_what_is_wrong_is_named_with_what_is_allowed(
    sample: dict[str, Any], path: str, value: object, named: str, words: str
) -> None:
    put(sample, path, value)
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    assert named in [problem.path for problem in caught.value.problems]
    told = next(str(problem) for problem in caught.value.problems if problem.path == named)
    assert told.startswith(f"{named}: ")
    assert words in told


REQUIRED = ["version", "time_zone", "slab", "loads", "weather", "weather/hourly"]
REQUIRED += [f"slab/{key}" for key in ("area_m2", "thickness_m", "ground_temp_c", "uncut_length_m")]
REQUIRED += [f"loads/0/{key}" for key in ("id", "batched_at", "placed_from", "placed_to", "concrete_temp_c")]
REQUIRED += [f"weather/hourly/2/{key}" for key in ("at", "air_temp_c", "rh", "wind_kmh")]
REQUIRED += ["checks/0/depth_mm", "texturing/mats", "saw/kind"]


@pytest.mark.parametrize("path", REQUIRED)
def test_a_missing_key_is_named(sample: dict[str, Any], path: str) -> None:
    cut(sample, path)
    with pytest.raises(ContractError, match="missing"):
        read_pour(sample)


def test_all_problems_come_at_once(sample: dict[str, Any]) -> None:
    put(sample, "slab/area_m2", -1)
    put(sample, "loads/1/concrete_temp_c", 99)
    put(sample, "weather/hourly/7/rh", "damp")
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    assert [problem.path for problem in caught.value.problems] == [
        "slab.area_m2",
        "loads[1].concrete_temp_c",
        "weather.hourly[7].rh",
    ]
    assert len(str(caught.value).splitlines()) == 3


def test_weather_that_misses_the_pour_is_refused(sample: dict[str, Any]) -> None:
    sample["weather"]["hourly"] = sample["weather"]["hourly"][12:]
    with pytest.raises(ContractError, match="does not cover the pour"):
        read_pour(sample)


@pytest.mark.parametrize("data", [None, [], "pour", 3, True])
def test_what_is_no_object_is_refused(data: object) -> None:
    with pytest.raises(ContractError, match="not an object"):
        read_pour(data)


odd = st.one_of(
    st.none(),
    st.booleans(),
    st.integers(-(10**20), 10**20),
    st.floats(),
    st.text(max_size=12),
    st.lists(st.integers(), max_size=2),
    st.dictionaries(st.text(max_size=4), st.integers(), max_size=2),
)
places = st.sampled_from(sorted({path for path, *_ in WRONG} | set(REQUIRED)))


@settings(max_examples=150, suppress_health_check=[HealthCheck.function_scoped_fixture], deadline=None)
@given(path=places, value=odd)
def test_whatever_stands_there_it_is_read_or_refused_by_name(
    sample: dict[str, Any], path: str, value: object
) -> None:
    data = copy.deepcopy(sample)
    put(data, path, value)
    try:
        named = [load.id for load in read_pour(data).loads]
    except ContractError as refused:
        named = [problem.message for problem in refused.problems]
    assert named
