"""The bands hold what they say on pours simulated with hidden set factors, weather errors and noisy checks.

`scripts/calibration` does the same on more pours; docs/odds.md holds its tables. The aim is five points. What
few pours can tell is blurred by chance: a share p of n pours has a standard error of sqrt(p (1 - p) / n), at
160 pours 3.2 points for 80 % and 4.0 for 50 %. All edges of one number of checks together are held to five
points, with nothing for chance; an edge over all numbers of checks is given one standard error of the pours
(which are the same at each number), a single figure two.
"""

import math
from collections.abc import Sequence
from dataclasses import replace

import pytest
from scripts.calibrate.measure import EDGES, Result, Tally, measure
from scripts.calibrate.scenes import Scene, scenes
from scripts.calibrate.truth import checks_of, truth_of

POURS, SEED = 160, 5
WITHIN = 0.05
LEVELS = (0, 1, 2, 4)


@pytest.fixture(scope="module")
def drawn() -> list[Scene]:
    return scenes(POURS, SEED, loads=1, hours=44)


@pytest.fixture(scope="module")
def measured(drawn: list[Scene]) -> dict[int, Result]:
    return measure(drawn, LEVELS)


def standard_error(share: float) -> float:
    return math.sqrt(share * (1.0 - share) / POURS)


def shares(tallies: Sequence[Tally]) -> tuple[float, float]:
    count = sum(tally.count for tally in tallies)
    return sum(t.in_50 for t in tallies) / count, sum(t.in_80 for t in tallies) / count


def hold(told: tuple[float, float], errors: float) -> None:
    """Both bands within five points and so many standard errors."""
    for share, promised in zip(told, (0.50, 0.80), strict=True):
        assert share == pytest.approx(promised, abs=WITHIN + errors * standard_error(promised))


@pytest.mark.parametrize("level", LEVELS)
def test_the_bands_hold_within_five_points_after_any_number_of_checks(
    measured: dict[int, Result], level: int
) -> None:
    hold(shares([*measured[level].tallies.values()]), 0.0)


@pytest.mark.parametrize("edge", EDGES)
def test_the_bands_of_any_edge_hold_within_five_points_and_a_standard_error(
    measured: dict[int, Result], edge: str
) -> None:
    hold(shares([measured[level].tallies[edge] for level in LEVELS]), 1.0)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("edge", EDGES)
def test_no_single_figure_is_further_off_than_five_points_and_two_standard_errors(
    measured: dict[int, Result], edge: str, level: int
) -> None:
    tally = measured[level].tallies[edge]
    hold(shares([tally]), 2.0)
    assert tally.shares()[2] == pytest.approx(0.50, abs=WITHIN + 2.0 * standard_error(0.50))


@pytest.mark.parametrize("edge", EDGES)
def test_every_check_narrows(measured: dict[int, Result], edge: str) -> None:
    widths = [measured[level].tallies[edge].width_min() for level in LEVELS]
    assert widths == sorted(widths, reverse=True)
    assert widths[1] < 0.75 * widths[0]


def test_few_sound_checks_are_flagged(measured: dict[int, Result]) -> None:
    for level in LEVELS[1:]:
        assert measured[level].flagged <= 0.08 * measured[level].checks


def test_the_same_seed_gives_the_same_pours_and_another_does_not(drawn: list[Scene]) -> None:
    assert scenes(3, SEED, loads=1, hours=44) == scenes(3, SEED, loads=1, hours=44)
    assert scenes(3, SEED, loads=1, hours=44) != scenes(3, SEED + 1, loads=1, hours=44)
    truth = truth_of(drawn[0], 0)
    assert checks_of(drawn[0], truth, 0, 4) == checks_of(drawn[0], truth, 0, 4)


def test_what_the_forecast_is_told_is_not_the_truth(drawn: list[Scene]) -> None:
    scene = drawn[0]
    start = scene.pour.loads[0].batched_at
    early, late = scene.told(start), scene.told(scene.pour.weather.hourly[-1].at)
    assert early.weather != scene.pour.weather
    off = [
        abs(told.weather.hourly[20].air_temp_c - scene.pour.weather.hourly[20].air_temp_c)
        for told in (early, late)
    ]
    assert off[1] < off[0]
    assert replace(early, weather=scene.pour.weather) == scene.pour
