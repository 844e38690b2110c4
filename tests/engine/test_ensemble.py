"""The members of a forecast: as many chances on each side, and quantiles that keep order."""

import math
import statistics
from statistics import NormalDist

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from slabtide.engine.ensemble import BRANCHES, LIKELY, MEMBERS, between, quantile, quantiles, sister_order


def test_the_members_are_a_standard_normal_in_each_deviate() -> None:
    for name in ("set_z", "open_z", "close_z"):
        values = [getattr(member, name) for member in MEMBERS]
        assert statistics.fmean(values) == pytest.approx(0.0, abs=0.03)
        assert statistics.pstdev(values) == pytest.approx(1.0, abs=0.04)


def test_the_weather_has_unit_variance_and_lies_between_its_branches() -> None:
    values = [member.weather_z for member in MEMBERS]
    assert statistics.fmean(values) == pytest.approx(0.0, abs=1e-12)
    assert statistics.pstdev(values) == pytest.approx(1.0, abs=1e-12)
    middle, far = [BRANCHES[LIKELY]] * len(MEMBERS), [BRANCHES[member.far] for member in MEMBERS]
    assert between(middle, far) == pytest.approx(values)
    assert all(0.0 < member.share < 1.0 for member in MEMBERS)
    assert values == sorted(values), "cool to warm"


def test_where_a_branch_does_not_get_there_the_nearer_one_counts() -> None:
    sevens, never = [7.0] * len(MEMBERS), [math.inf] * len(MEMBERS)
    far = [member.share > 0.5 for member in MEMBERS]
    assert between(sevens, never) == [math.inf if is_far else 7.0 for is_far in far]
    assert between(never, sevens) == [7.0 if is_far else math.inf for is_far in far]


def shares_below(weights: tuple[float, float, float], reading: str) -> list[float]:
    """Where the members' 10, 25, 50, 75 and 90 % points of a sum of deviates stand on the normal law."""
    of_weather, of_set, of_reading = weights
    told = sorted(
        of_weather * m.weather_z + of_set * m.set_z + of_reading * getattr(m, reading) for m in MEMBERS
    )
    law = NormalDist(0.0, math.hypot(*weights))
    return [law.cdf(quantile(told, share)) for share in (0.10, 0.25, 0.50, 0.75, 0.90)]


@pytest.mark.parametrize("reading", ["open_z", "close_z"])
@pytest.mark.parametrize("of_weather", [-0.1, -0.05, -0.03, -0.01])  # warmer is sooner
@pytest.mark.parametrize("of_set", [0.04, 0.06, 0.09, 0.1, 0.2, 0.3])
def test_bands_of_any_sum_of_errors_stand_where_the_normal_law_has_them(
    of_set: float, of_weather: float, reading: str
) -> None:
    """Within 3.5 points: 96 members in three lumps of weather were up to 8 off, which a 50 % band feels."""
    q10, q25, q50, q75, q90 = shares_below((of_weather, of_set, 0.06), reading)
    assert q75 - q25 == pytest.approx(0.50, abs=0.035)
    assert q90 - q10 == pytest.approx(0.80, abs=0.035)
    assert q50 == pytest.approx(0.50, abs=0.02)


def test_the_deviates_do_not_go_together() -> None:
    sets = [member.set_z for member in MEMBERS]
    for name in ("open_z", "close_z"):
        assert abs(statistics.correlation(sets, [getattr(m, name) for m in MEMBERS])) < 0.15


times = st.lists(st.tuples(st.floats(0, 1e6), st.floats(0, 1e5)), min_size=1, max_size=60)


@given(times)
@example([(1.6688746804720722, 1.0), (524290.4376559035, 0.0)])
def test_members_that_keep_order_have_quantiles_that_do(spans: list[tuple[float, float]]) -> None:
    opens = quantiles([start for start, _ in spans])
    closes = quantiles([start + length for start, length in spans])
    assert opens[0] <= opens[1] <= opens[2]
    assert all(a <= b for a, b in zip(opens, closes, strict=True))


@pytest.mark.parametrize("told", [0.0, 0.3, 0.5, 0.9])
def test_a_sisters_set_factor_goes_along_as_far_as_is_told(told: float) -> None:
    order = sister_order(1, told)
    assert sorted(order) == list(range(len(MEMBERS)))
    pairs = [(member.set_z, MEMBERS[k].set_z) for member, k in zip(MEMBERS, order, strict=True)]
    together = statistics.correlation([a for a, _ in pairs], [b for _, b in pairs])
    assert together == pytest.approx(told, abs=0.1)


def test_a_sister_load_has_every_member_once_in_the_same_weather_and_a_set_factor_that_goes_along() -> None:
    assert sister_order(0) == tuple(range(len(MEMBERS)))
    for turn in range(1, 12):
        order = sister_order(turn)
        assert sorted(order) == list(range(len(MEMBERS)))
        pairs = [(member, MEMBERS[k]) for member, k in zip(MEMBERS, order, strict=True)]
        assert all(a.weather_z == b.weather_z for a, b in pairs)
        together = statistics.correlation([a.set_z for a, _ in pairs], [b.set_z for _, b in pairs])
        assert together == pytest.approx(0.75, abs=0.08)
        for name in ("open_z", "close_z"):
            first, second = [getattr(a, name) for a, _ in pairs], [getattr(b, name) for _, b in pairs]
            assert abs(statistics.correlation(first, second)) < 0.2
