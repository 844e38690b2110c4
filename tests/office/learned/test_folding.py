"""The fold over closed jobs: a pure function of which they are, not of how or how often they came."""

import math
import random
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from hypothesis import given
from hypothesis import strategies as st

from slabtide.engine.prior import PourResult, update_prior
from slabtide.office.learned.folding import Pour, known_from, moved_by, path
from slabtide.office.learned.known import BOOK, Known, key_of, prior_of

KEY = ("patio", "bend")
START = datetime(2026, 7, 1, tzinfo=UTC)
results = st.builds(
    PourResult, st.floats(-0.5, 0.5), st.floats(0.04, 0.15), st.tuples(st.floats(-0.3, 0.3), st.just(0.2))
)


def pours_with(told: list[PourResult]) -> list[Pour]:
    return [
        Pour(f"job {n}", START + timedelta(days=n), "Patio", "Bend", one, False) for n, one in enumerate(told)
    ]


@given(st.lists(results, max_size=8), st.randoms(use_true_random=False))
def test_order_of_arrival_and_repeats_change_nothing(told: list[PourResult], chance: random.Random) -> None:
    pours = pours_with(told)
    mixed = [*pours, *pours[:3]]
    chance.shuffle(mixed)
    assert known_from(mixed, KEY) == known_from(pours, KEY)


@given(st.lists(results, min_size=1, max_size=8))
def test_it_is_the_engines_update_over_them_in_order_of_closing(told: list[PourResult]) -> None:
    known = known_from(pours_with(told), KEY)
    assert known == Known("Patio", "Bend", len(told), *update_prior(BOOK, told))


@given(st.lists(results, min_size=2, max_size=6))
def test_a_pour_set_aside_counts_as_if_it_had_not_been(told: list[PourResult]) -> None:
    pours = pours_with(told)
    aside = [*pours[:-1], Pour(pours[-1].job, pours[-1].closed_at, "Patio", "Bend", told[-1], True)]
    assert known_from(aside, KEY) == known_from(pours[:-1], KEY)
    assert moved_by(aside, KEY, pours[-1].job).before == moved_by(aside, KEY, pours[-1].job).after


@given(st.lists(results, min_size=1, max_size=6))
def test_what_was_known_after_each_is_what_the_next_one_found(told: list[PourResult]) -> None:
    pours = pours_with(told)
    steps = path(pours, KEY, 3)
    assert [pour.job for pour, _ in steps] == [pour.job for pour in pours][-3:]
    for pour, after in steps:
        assert moved_by(pours, KEY, pour.job).after == after
    for (_, after), (pour, _) in pairwise(steps):
        assert moved_by(pours, KEY, pour.job).before == after


def test_a_forecast_that_began_from_what_was_known_is_not_counted_twice() -> None:
    """The same checks, once beginning from the book and once from what earlier pours told."""
    seen_mean, seen_sd = 0.3, 0.08
    for began in (BOOK, (0.2, 0.11)):
        weight = 1 / seen_sd**2 + 1 / began[1] ** 2
        mean = (seen_mean / seen_sd**2 + began[0] / began[1] ** 2) / weight
        known = known_from(pours_with([PourResult(mean, math.sqrt(1 / weight), began)]), KEY)
        assert known is not None
        assert math.isclose(known.mean_log, update_prior(BOOK, [PourResult(seen_mean, seen_sd)])[0])


def test_names_differ_by_more_than_case_and_spaces() -> None:
    assert key_of("  Patio  MIX ", "Kettle bend") == key_of("patio mix", "KETTLE BEND")
    assert key_of("patio mix 2") != key_of("patio mix")


def test_what_is_known_by_no_pour_is_not_known() -> None:
    assert prior_of([Known("Patio", "", 0, 0.3, 0.1)], "Patio", None) is None
    assert prior_of([], "Patio", "Bend") is None
