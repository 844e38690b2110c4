"""The bands hold what they say on pours simulated with hidden set factors, weather errors and noisy checks.

`scripts/calibration` does the same on more pours, edge by edge; docs/odds.md holds its tables. Here all edges
of one number of checks are counted together, so that few pours already tell five points apart.
"""

from dataclasses import replace

import pytest
from scripts.calibrate.measure import EDGES, Result, measure
from scripts.calibrate.scenes import Scene, scenes
from scripts.calibrate.truth import checks_of, truth_of

POURS, SEED = 100, 5
LEVELS = (0, 1, 2, 4)


@pytest.fixture(scope="module")
def drawn() -> list[Scene]:
    return scenes(POURS, SEED, loads=1, hours=44)


@pytest.fixture(scope="module")
def measured(drawn: list[Scene]) -> dict[int, Result]:
    return measure(drawn, LEVELS)


def shares(result: Result) -> tuple[float, float]:
    tallies = result.tallies.values()
    count = sum(tally.count for tally in tallies)
    return sum(t.in_50 for t in tallies) / count, sum(t.in_80 for t in tallies) / count


@pytest.mark.parametrize("level", LEVELS)
def test_the_bands_hold_within_five_points_after_any_number_of_checks(
    measured: dict[int, Result], level: int
) -> None:
    half, most = shares(measured[level])
    assert half == pytest.approx(0.50, abs=0.05)
    assert most == pytest.approx(0.80, abs=0.05)


@pytest.mark.parametrize("level", LEVELS)
@pytest.mark.parametrize("edge", EDGES)
def test_no_single_edge_is_far_off(measured: dict[int, Result], edge: str, level: int) -> None:
    """Within three standard errors of a share of 100 pours, which five points are not."""
    _, most, below = measured[level].tallies[edge].shares()
    assert most == pytest.approx(0.80, abs=0.12)
    assert below == pytest.approx(0.50, abs=0.15)


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
