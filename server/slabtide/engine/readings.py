"""A surface check set beside the clocks, and how likely it is at a set factor."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from statistics import NormalDist

from slabtide.engine.pour import CheckKind
from slabtide.engine.surface import share_at_depth

_NORMAL = NormalDist()
# Of log age (EST): the eye, 12 and 18 %; and what the keys for a footprint leave out, 5 %.
_DEPTH_SD: dict[CheckKind, float] = {"footprint": 0.13, "thumb": 0.18}
_FIRM_SD, _TOO_FIRM_SD = 0.08, 0.05
_STIFFER: dict[CheckKind, int] = {"mat_sticks": 0, "mat_clean": 1, "mat_refused": 2}
_NO_MARK_MM: dict[CheckKind, float] = {"footprint": 1.5, "thumb": 1.0}  # shallower is no mark (EST)
_SINKS_MM = 22.0  # a print as deep tells no depth: the boot sinks (EST)
_DENTS_MM = 4.0  # a thumb tells no mark, a light one, or a dent as deep as this (EST)
_WIDENED = 3.0  # by how much a bound that contradicts is softened (EST)
_LEAST_CHANCE = 1e-9


@dataclass(frozen=True, slots=True)
class Reading:
    """A check beside its load's clocks: the logarithms of the set factors at which the load would just then
    have come to a 6 mm footprint, and to the end of texturing; and by how much each is more where the weather
    so far was one standard deviation warmer than told."""

    load: str
    kind: CheckKind
    depth_mm: float | None
    time_s: float
    firm_log: float
    too_firm_log: float
    firm_warmer: float = 0.0
    too_firm_warmer: float = 0.0

    def in_warmer_weather(self) -> "Reading":
        """The same check, had the weather been one standard deviation warmer than told."""
        firm, too_firm = self.firm_log + self.firm_warmer, self.too_firm_log + self.too_firm_warmer
        return replace(self, firm_log=firm, too_firm_log=too_firm)


@dataclass(frozen=True, slots=True)
class Likelihood:
    """A reading's say on the logarithm of the set factor: a footprint reads it; no mark, a boot that sinks, a
    thumb and a mat only bound it.

    `span`: between which logarithms of the share of the way to a 6 mm footprint a print tells the concrete to
    be, the same twice where it is read, infinite where it is open; None for a mat, and for a print without
    depth, which says nothing. `sd`: of its reading.
    """

    reading: Reading
    span: tuple[float, float] | None
    sd: float
    firm_sd: float = _FIRM_SD
    too_firm_sd: float = _TOO_FIRM_SD

    @property
    def mean(self) -> float | None:
        """The logarithm of the set factor that is read; None where it is only bounded."""
        if self.span is None or self.span[0] < self.span[1]:
            return None
        return self.reading.firm_log - self.span[0]

    def log_density(self, log: float) -> float:
        """Log-likelihood, up to a constant, at the logarithm of a set factor."""
        mean = self.mean
        if mean is not None:
            return -0.5 * ((log - mean) / self.sd) ** 2
        return math.log(max(self._bound_chance(log, 0.0), _LEAST_CHANCE))

    def chance(self, expected: tuple[float, float]) -> float:
        """How likely a reading as odd as this is where `expected` is mean and sd of the logarithm [0..1]."""
        (centre, spread), mean = expected, self.mean
        if mean is not None:
            return 2.0 * _NORMAL.cdf(-abs(mean - centre) / math.hypot(spread, self.sd))
        return self._bound_chance(centre, spread)

    def in_warmer_weather(self) -> "Likelihood":
        """The same reading, had the weather so far been one standard deviation warmer than told."""
        return replace(self, reading=self.reading.in_warmer_weather())

    def widened(self, expected: tuple[float, float], stands_at_sd: float) -> "Likelihood":
        """The same reading with an error so wide that it stands no more than so many sd out."""
        mean = self.mean
        if mean is None:
            firm_sd, too_firm_sd = _WIDENED * self.firm_sd, _WIDENED * self.too_firm_sd
            return replace(self, sd=_WIDENED * self.sd, firm_sd=firm_sd, too_firm_sd=too_firm_sd)
        centre, spread = expected
        room = ((mean - centre) / stands_at_sd) ** 2 - spread * spread
        return replace(self, sd=max(self.sd * 1.5, math.sqrt(max(room, 0.0))))

    def _bound_chance(self, log: float, spread: float) -> float:
        reading = self.reading
        if self.span is not None:
            least, most = self.span
            told, sd = reading.firm_log - log, math.hypot(self.sd, spread)
            return _below(most - told, sd) - _below(least - told, sd)
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
    """What a reading says. Print depth reads the surface clock, age to the power -1/4 (EST); no mark at all,
    and a boot that sinks, tell only of an age that is passed, or is not come to."""
    sd = _DEPTH_SD.get(reading.kind)
    if sd is None or reading.depth_mm is None:
        return Likelihood(reading, None, 1.0)
    return Likelihood(reading, _span(reading.kind, reading.depth_mm), sd)


def _span(kind: CheckKind, depth_mm: float) -> tuple[float, float]:
    """Between which logarithms of the share of the way to a 6 mm footprint a print stands."""
    shallow, deep = _NO_MARK_MM[kind], _SINKS_MM if kind == "footprint" else _DENTS_MM
    if depth_mm < shallow:
        return math.log(share_at_depth(shallow)), math.inf
    if depth_mm >= deep:
        return -math.inf, math.log(share_at_depth(deep))
    if kind == "footprint":
        return math.log(share_at_depth(depth_mm)), math.log(share_at_depth(depth_mm))
    return math.log(share_at_depth(deep)), math.log(share_at_depth(shallow))


def _below(distance: float, sd: float) -> float:
    """Chance to be below a bound so far off, which may be infinite."""
    return _NORMAL.cdf(distance / sd) if math.isfinite(distance) else float(distance > 0.0)


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
    back = _span(earlier.kind, earlier.depth_mm)[0] - _span(later.kind, later.depth_mm)[1]
    return back > math.hypot(_DEPTH_SD[earlier.kind], _DEPTH_SD[later.kind])
