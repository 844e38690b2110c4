"""What a company knows of a mix from one plant, from pour to pour: closed form, nothing stored here."""

import math
from collections.abc import Sequence
from dataclasses import dataclass

BETWEEN_DAYS_SD = 0.08  # one recipe, two days: cement, water, sand (EST)
LEAST_SD = 0.08  # the next day is never known better than days differ (EST)
DRIFT_SD = 0.02  # recipes creep: this much is forgotten with each pour (EST)


@dataclass(frozen=True, slots=True)
class PourResult:
    """What one pour came to: mean and sd of the logarithm of its set factor, as its last forecast told.

    `began` is the mean and sd that pour's forecast began from, which its result still holds; None when the
    result rests on its checks alone."""

    mean_log: float
    sd_log: float
    began: tuple[float, float] | None = None


def update_prior(prior: tuple[float, float], pours: Sequence[PourResult]) -> tuple[float, float]:
    """The prior of a mix and plant for its next pour.

    prior -- mean and sd of the logarithm of the set factor before these pours; sd above zero
    pours -- their results, in order of time. What a pour began from is taken out of its result first, so that
        nothing is counted twice; one that learned nothing (sd no less than it began with) counts for nothing

    Returns mean and sd of the logarithm for the next pour. Normal on normal, each pour off the recipe's own
    level by what days differ.

    Raises: ValueError on an sd that is not above zero.

    Source: conjugate normal update with a random walk (Kalman filter of one state).

    >>> mean, sd = update_prior((0.0, 0.2), [PourResult(0.1, 0.06)])
    >>> round(mean, 3), round(sd, 3)
    (0.077, 0.119)
    """
    mean, sd = prior
    if not sd > 0.0:
        raise ValueError("the prior's sd has to be above zero")
    level = math.sqrt(max(sd * sd - BETWEEN_DAYS_SD**2, (sd / 2.0) ** 2))
    for pour in pours:
        if not pour.sd_log > 0.0:
            raise ValueError("a pour's sd has to be above zero")
        told = _without(pour.began, pour) if pour.began else pour
        if told is None:
            continue
        level = math.hypot(level, DRIFT_SD)
        error = math.hypot(told.sd_log, BETWEEN_DAYS_SD)
        gain = level * level / (level * level + error * error)
        mean += gain * (told.mean_log - mean)
        level *= math.sqrt(1.0 - gain)
    return mean, max(LEAST_SD, math.hypot(level, BETWEEN_DAYS_SD))


def _without(began: tuple[float, float], pour: PourResult) -> PourResult | None:
    """The result with the prior it began from divided out; None when it learned nothing."""
    mean, sd = began
    weight = 1.0 / pour.sd_log**2 - 1.0 / sd**2
    if weight <= 1e-6 / sd**2:
        return None
    return PourResult((pour.mean_log / pour.sd_log**2 - mean / sd**2) / weight, math.sqrt(1.0 / weight))
