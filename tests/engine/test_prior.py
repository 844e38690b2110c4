"""The company's prior for a mix and plant: what one pour hands to the next."""

import math

import pytest

from slabtide.engine.prior import BETWEEN_DAYS_SD, LEAST_SD, PourResult, update_prior

START = (0.0, 0.2)


def test_no_pour_leaves_the_prior() -> None:
    assert update_prior(START, []) == pytest.approx(START)


def test_slow_pours_slow_the_prior_and_narrow_it() -> None:
    once = update_prior(START, [PourResult(0.2, 0.06)])
    often = update_prior(START, [PourResult(0.2, 0.06)] * 8)
    assert 0.0 < once[0] < often[0] < 0.2
    assert START[1] > once[1] > often[1] >= max(LEAST_SD, BETWEEN_DAYS_SD)


def test_what_a_pour_began_from_is_not_counted_twice() -> None:
    seen, sd = 0.3, 0.1  # what its checks alone said
    weight = 1.0 / sd**2 + 1.0 / START[1] ** 2
    held = PourResult(seen / sd**2 / weight, math.sqrt(1.0 / weight), began=START)
    assert update_prior(START, [held]) == pytest.approx(update_prior(START, [PourResult(seen, sd)]))


def test_a_pour_without_checks_teaches_nothing() -> None:
    assert update_prior(START, [PourResult(*START, began=START)]) == pytest.approx(START)


def test_one_at_a_time_is_the_same_as_all_at_once_while_days_are_the_wider_part() -> None:
    pours = [PourResult(0.1, 0.05), PourResult(0.15, 0.07), PourResult(0.05, 0.06)]
    step = START
    for pour in pours:
        step = update_prior(step, [pour])
    assert step == pytest.approx(update_prior(START, pours), abs=0.01)


@pytest.mark.parametrize("sd", [0.0, -0.1, math.nan])
def test_an_sd_that_is_none_is_an_error(sd: float) -> None:
    with pytest.raises(ValueError, match="above zero"):
        update_prior((0.0, sd), [])
    with pytest.raises(ValueError, match="above zero"):
        update_prior(START, [PourResult(0.0, sd)])
