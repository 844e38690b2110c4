"""What checks teach."""

from collections.abc import Callable
from datetime import timedelta

import pytest

from slabtide.engine import Pour, forecast
from slabtide.engine.learning import Reading, learned_set_factor
from slabtide.engine.pour import CheckKind, SurfaceCheck

MakePour = Callable[..., Pour]


def footprint(depth_mm: float, share: float, own: bool = True) -> Reading:
    return Reading("footprint", depth_mm, share, share * 0.7, own)


def test_no_reading_changes_nothing() -> None:
    assert learned_set_factor(1.1, 0.2, []) == (1.1, 0.2)


def test_a_print_too_deep_for_its_age_slows_the_mix_and_narrows_it() -> None:
    factor, sd = learned_set_factor(1.0, 0.2, [footprint(14.0, 1.0)])
    assert factor > 1.1
    assert sd < 0.13


def test_a_print_too_shallow_for_its_age_quickens_it() -> None:
    assert learned_set_factor(1.0, 0.2, [footprint(4.0, 0.8)])[0] < 0.9


def test_a_sisters_check_teaches_less() -> None:
    own, _ = learned_set_factor(1.0, 0.2, [footprint(12.0, 1.0)])
    sister, _ = learned_set_factor(1.0, 0.2, [footprint(12.0, 1.0, own=False)])
    assert 1.0 < sister < own


def test_a_mat_that_sticks_slows_and_one_refused_quickens() -> None:
    sticks, _ = learned_set_factor(1.0, 0.2, [Reading("mat_sticks", None, 1.1, 0.8, True)])
    refused, _ = learned_set_factor(1.0, 0.2, [Reading("mat_refused", None, 1.3, 0.9, True)])
    clean, sd = learned_set_factor(1.0, 0.2, [Reading("mat_clean", None, 1.0, 0.7, True)])
    assert refused < 0.95 < 1.05 < sticks
    assert 0.75 < clean < 1.0
    assert sd < 0.2


def test_a_thumb_without_a_depth_teaches_nothing() -> None:
    factor, sd = learned_set_factor(1.0, 0.2, [Reading("thumb", None, 1.0, 0.7, True)])
    assert factor == pytest.approx(1.0)
    assert sd == pytest.approx(0.2, rel=0.01)


def seen_at(pour: Pour, kind: CheckKind, depth_mm: float | None, minutes: int) -> SurfaceCheck:
    return SurfaceCheck("1", pour.loads[0].placed_to + timedelta(minutes=minutes), kind, depth_mm)


def test_a_deep_footprint_moves_the_window_later_once_it_is_seen(make_pour: MakePour) -> None:
    plain = make_pour()
    check = seen_at(plain, "footprint", 25.0, 120)
    pour = make_pour(checks=(check,))
    before = forecast(pour, check.at - timedelta(minutes=1)).loads[0]
    after = forecast(pour, check.at).loads[0]
    first, second = before.windows["texture"], after.windows["texture"]
    assert first is not None
    assert second is not None
    assert second.opens.likely > first.opens.likely
    assert second.opens.late - second.opens.early < first.opens.late - first.opens.early
    assert before.set_factor == pytest.approx(1.0)
