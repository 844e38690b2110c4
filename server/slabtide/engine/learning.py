"""What a surface check teaches: the set factor of its load, and a little of its sisters'."""

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from statistics import NormalDist

from slabtide.engine.pour import CheckKind
from slabtide.engine.surface import share_at_depth

_NORMAL = NormalDist()
_GRID, _REACH_SD = 80, 4.0
_DEPTH_SD: dict[CheckKind, float] = {"footprint": 0.12, "thumb": 0.18}  # of log age (EST)
_FIRM_SD, _TOO_FIRM_SD = 0.08, 0.05
_BETWEEN_LOADS_SD = 0.10  # one mix, two trucks (EST)
_LEAST_SD = 0.04


@dataclass(frozen=True, slots=True)
class Reading:
    """A check set beside the clocks: shares of the way to a 6 mm footprint and to the end of texturing,
    both for a set factor of 1, and whether it was made on the load that is asked about."""

    kind: CheckKind
    depth_mm: float | None
    firm_share: float
    too_firm_share: float
    own: bool


def learned_set_factor(
    set_factor: float, set_factor_sd: float, readings: Sequence[Reading]
) -> tuple[float, float]:
    """Median of the set factor, and sd of its logarithm, after the readings.

    A print's depth reads the surface clock; a mat that sticks, prints clean or is refused only bounds it.
    Bayes on a grid of the logarithm, then the log-normal with the same mean and sd.

    >>> after, sd = learned_set_factor(1.0, 0.2, [Reading("footprint", 6.0, 1.2, 0.7, True)])
    >>> round(after, 2), round(sd, 2)
    (1.14, 0.1)
    """
    if not readings or set_factor_sd <= 0.0:
        return set_factor, set_factor_sd
    centre = math.log(set_factor)
    logs = [centre + set_factor_sd * _REACH_SD * (k / _GRID * 2.0 - 1.0) for k in range(_GRID + 1)]
    chances = [_log_density(log, centre, set_factor_sd) for log in logs]
    for reading in readings:
        told = _likelihood(reading)
        chances = [chance + told(log) for chance, log in zip(chances, logs, strict=True)]
    most = max(chances)
    weights = [math.exp(chance - most) for chance in chances]
    total = sum(weights)
    mean = sum(weight * log for weight, log in zip(weights, logs, strict=True)) / total
    spread = sum(weight * (log - mean) ** 2 for weight, log in zip(weights, logs, strict=True)) / total
    return math.exp(mean), min(set_factor_sd, max(_LEAST_SD, math.sqrt(spread)))


def _log_density(value: float, mean: float, sd: float) -> float:
    return -0.5 * ((value - mean) / sd) ** 2


def _likelihood(reading: Reading) -> Callable[[float], float]:
    """Log-likelihood of the logarithm of the set factor."""
    between = 0.0 if reading.own else _BETWEEN_LOADS_SD
    firm, too_firm = math.log(reading.firm_share), math.log(reading.too_firm_share)
    firm_sd, too_firm_sd = math.hypot(_FIRM_SD, between), math.hypot(_TOO_FIRM_SD, between)

    def is_firm(log: float) -> float:
        return _NORMAL.cdf((firm - log) / firm_sd)

    def is_too_firm(log: float) -> float:
        return _NORMAL.cdf((too_firm - log) / too_firm_sd)

    if reading.kind == "mat_sticks":
        return lambda log: _log_chance(1.0 - is_firm(log))
    if reading.kind == "mat_refused":
        return lambda log: _log_chance(is_too_firm(log))
    if reading.kind == "mat_clean":
        return lambda log: _log_chance(is_firm(log) * (1.0 - is_too_firm(log)))
    if reading.depth_mm is None:
        return lambda log: 0.0
    mean = firm - math.log(share_at_depth(reading.depth_mm))
    sd = math.hypot(_DEPTH_SD[reading.kind], between)
    return lambda log: _log_density(log, mean, sd)


def _log_chance(chance: float) -> float:
    return math.log(max(chance, 1e-9))
