"""A surface check set beside the clocks, and how likely it is at a set factor."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

from slabtide.engine.pour import CheckKind
from slabtide.engine.surface import share_at_depth

_NORMAL = NormalDist()
_DEPTH_SD: dict[CheckKind, float] = {"footprint": 0.12, "thumb": 0.18}  # of log age (EST)
_FIRM_SD, _TOO_FIRM_SD = 0.08, 0.05
_STIFFER: dict[CheckKind, int] = {"mat_sticks": 0, "mat_clean": 1, "mat_refused": 2}
_WIDENED = 3.0  # by how much a bound that contradicts is softened (EST)
_LEAST_CHANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Reading:
    """A check beside its load's clocks: the logarithms of the set factors at which the load would just then
    have come to a 6 mm footprint, and to the end of texturing."""

    load: str
    kind: CheckKind
    depth_mm: float | None
    time_s: float
    firm_log: float
    too_firm_log: float


@dataclass(frozen=True, slots=True)
class Likelihood:
    """A reading's say on the logarithm of the set factor: a print reads it, a mat only bounds it.

    `mean` and `sd` are those of a print (None for a mat, and for a print without depth, which says nothing).
    """

    reading: Reading
    mean: float | None
    sd: float
    firm_sd: float = _FIRM_SD
    too_firm_sd: float = _TOO_FIRM_SD

    def log_density(self, log: float) -> float:
        """Log-likelihood, up to a constant, at the logarithm of a set factor."""
        if self.mean is not None:
            return -0.5 * ((log - self.mean) / self.sd) ** 2
        return math.log(max(self._mat_chance(log, 0.0), _LEAST_CHANCE))

    def chance(self, expected: tuple[float, float]) -> float:
        """How likely a reading as odd as this is where `expected` is mean and sd of the logarithm [0..1]."""
        centre, spread = expected
        if self.mean is not None:
            return 2.0 * _NORMAL.cdf(-abs(self.mean - centre) / math.hypot(spread, self.sd))
        return self._mat_chance(centre, spread)

    def widened(self, expected: tuple[float, float], stands_at_sd: float) -> "Likelihood":
        """The same reading with an error so wide that it stands no more than so many sd out."""
        if self.mean is None:
            return replace(self, firm_sd=_WIDENED * self.firm_sd, too_firm_sd=_WIDENED * self.too_firm_sd)
        centre, spread = expected
        room = ((self.mean - centre) / stands_at_sd) ** 2 - spread * spread
        return replace(self, sd=max(self.sd * 1.5, math.sqrt(max(room, 0.0))))

    def _mat_chance(self, log: float, spread: float) -> float:
        reading = self.reading
        firm = _NORMAL.cdf((reading.firm_log - log) / math.hypot(self.firm_sd, spread))
        too_firm = _NORMAL.cdf((reading.too_firm_log - log) / math.hypot(self.too_firm_sd, spread))
        if reading.kind == "mat_sticks":
            return 1.0 - firm
        if reading.kind == "mat_refused":
            return too_firm
        if reading.kind == "mat_clean":
            return firm * (1.0 - too_firm)
        return 1.0


def likelihood(reading: Reading) -> Likelihood:
    """What a reading says. Print depth reads the surface clock, age to the power -1/4 (EST)."""
    sd = _DEPTH_SD.get(reading.kind)
    if sd is None or reading.depth_mm is None:
        return Likelihood(reading, None, 1.0)
    return Likelihood(reading, reading.firm_log - math.log(share_at_depth(reading.depth_mm)), sd)


def is_out_of_order(i: int, readings: Sequence[Reading]) -> bool:
    """Whether a reading is softer than an earlier one on its load, by more than both their errors.

    Concrete doesn't soften: a mat that sticks after one that printed clean, or a deeper print later.
    """
    later = readings[i]
    return any(
        _softened(earlier, later)
        for earlier in readings
        if earlier.load == later.load and earlier.time_s < later.time_s
    )


def _softened(earlier: Reading, later: Reading) -> bool:
    first, second = _STIFFER.get(earlier.kind), _STIFFER.get(later.kind)
    if first is not None and second is not None:
        return second < first
    if first is not None or second is not None or earlier.depth_mm is None or later.depth_mm is None:
        return False
    back = math.log(share_at_depth(earlier.depth_mm)) - math.log(share_at_depth(later.depth_mm))
    return back > math.hypot(_DEPTH_SD[earlier.kind], _DEPTH_SD[later.kind])
