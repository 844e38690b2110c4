"""The members of a forecast: as many chances on each side, and quantiles that keep order."""

import statistics

import pytest
from hypothesis import example, given
from hypothesis import strategies as st

from slabtide.engine.ensemble import BRANCHES, MEMBERS, quantiles, sister_order


def test_the_members_are_a_standard_normal_in_each_deviate() -> None:
    for name in ("set_z", "open_z", "close_z"):
        values = [getattr(member, name) for member in MEMBERS]
        assert statistics.fmean(values) == pytest.approx(0.0, abs=0.03)
        assert statistics.pstdev(values) == pytest.approx(1.0, abs=0.04)


def test_weather_branches_have_unit_variance() -> None:
    values = [BRANCHES[member.branch] for member in MEMBERS]
    assert statistics.fmean(values) == pytest.approx(0.0, abs=1e-12)
    assert statistics.pstdev(values) == pytest.approx(1.0, abs=1e-12)


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


def test_a_sister_load_has_every_member_once_in_the_same_weather_and_a_set_factor_that_goes_along() -> None:
    assert sister_order(0) == tuple(range(len(MEMBERS)))
    for turn in range(1, 12):
        order = sister_order(turn)
        assert sorted(order) == list(range(len(MEMBERS)))
        pairs = [(member, MEMBERS[k]) for member, k in zip(MEMBERS, order, strict=True)]
        assert all(a.branch == b.branch for a, b in pairs)
        together = statistics.correlation([a.set_z for a, _ in pairs], [b.set_z for _, b in pairs])
        assert together == pytest.approx(0.75, abs=0.08)
        for name in ("open_z", "close_z"):
            first, second = [getattr(a, name) for a, _ in pairs], [getattr(b, name) for _, b in pairs]
            assert abs(statistics.correlation(first, second)) < 0.2
