"""The chance to miss is one: of races told alike, so many are missed, before any check and after checks.

`scripts/calibration --race` does the same on more pours, docs/odds.md holds its table. Aimed at: seven points
in each span of the chance. A share p of n races has a standard error of sqrt(p (1 - p) / n); a span is given
two.
"""

import math
from collections.abc import Sequence

import pytest
from scripts.calibrate.races import Race, races
from scripts.calibrate.scenes import Scene, scenes

POURS, SEED = 160, 3
AFTER_CHECKS = ((0.0, 0.1), (0.1, 0.3), (0.3, 0.6), (0.6, 1.01))
BEFORE = ((0.0, 0.1), (0.1, 0.3), (0.3, 1.01))  # without a check hardly a race is told above 0.6


@pytest.fixture(scope="module")
def drawn() -> list[Scene]:
    return scenes(POURS, SEED, loads=2, hours=34)


def told_and_missed(run: Sequence[Race]) -> tuple[float, float]:
    return sum(race.told for race in run) / len(run), sum(race.missed for race in run) / len(run)


@pytest.mark.parametrize(("checks", "spans"), [(0, BEFORE), (2, AFTER_CHECKS)])
def test_races_are_missed_as_often_as_was_told(
    drawn: list[Scene], checks: int, spans: tuple[tuple[float, float], ...]
) -> None:
    run = races(drawn, checks)
    told, missed = told_and_missed(run)
    assert missed == pytest.approx(told, abs=0.05)
    for low, high in spans:
        inside = [race for race in run if low <= race.told < high]
        assert len(inside) >= 10
        told, missed = told_and_missed(inside)
        assert missed == pytest.approx(told, abs=0.07 + 2.0 * math.sqrt(told * (1.0 - told) / len(inside)))


def test_the_chance_tells_races_apart(drawn: list[Scene]) -> None:
    """Its mean squared error is well under that of telling every crew the same."""
    run = races(drawn[:80], 2)
    _, share = told_and_missed(run)
    error = sum((race.told - race.missed) ** 2 for race in run) / len(run)
    assert error < 0.7 * share * (1.0 - share)
