"""What surface checks teach: the set factor of each load, and through the mix a little of its sisters'.

A load's factor is that of the day's mix times its own: two log-normals that add up to the mix's sd. A check
reads its own load; what it says of the mix reaches the other loads through that shared part alone.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from operator import add, mul
from statistics import NormalDist

from slabtide.engine.ensemble import SISTERS_TOGETHER
from slabtide.engine.readings import Likelihood, Reading, is_out_of_order, likelihood

_NORMAL = NormalDist()
_GRID, _REACH_SD = 80, 4.0
_BETWEEN_LOADS_SD = 0.10  # one mix, two trucks (EST)
_BETWEEN_SHARE = 0.5  # or this share of the mix's own sd, where that is less (EST)
_LEAST_SD = 0.04
CONTRADICTS_BELOW = 0.01  # a check less likely than this, given the mix and the other checks, is flagged
# Correlation of the weather's error up to a check with that after it (EST): so much of what a check has taken
# into the set factor takes back what the same weather does to the hours to come.
_WEATHER_STAYS = 0.7
_STANDS_AT_SD = 2.0  # a flagged check is widened until it stands this far out

Vector = list[float]


@dataclass(frozen=True, slots=True)
class Belief:
    """The set factor of one load: median, and sd of its logarithm; and what of that goes with the weather:
    the logarithm is more by `per_weather` where it is one standard deviation warmer than told. `together`:
    its correlation with the set factor of the first load."""

    set_factor: float
    set_factor_sd: float
    per_weather: float = 0.0
    together: float = SISTERS_TOGETHER


@dataclass(frozen=True, slots=True)
class Lesson:
    """What a set of readings comes to: a belief per load, and the places of those that contradict."""

    beliefs: dict[str, Belief]
    contradictory: frozenset[int]


def learn(prior: Belief, loads: Sequence[str], readings: Sequence[Reading]) -> Lesson:
    """The set factor of every load after the readings.

    prior -- the mix as expected
    loads -- ids of all loads
    readings -- what was seen, in any order

    A reading less likely than 1 in 100 given the mix and all others, or softer than an earlier one on its
    load by more than their errors, contradicts: it is widened until it stands two of its sd out, and its load
    is held no narrower for it. Bayes on a grid of the logarithm, then the log-normal with the same mean and
    sd. Weather that ran warmer than told made the concrete look quicker than it is, at every check alike:
    that doubt no number of checks takes away.
    """
    if not readings or prior.set_factor_sd <= 0.0:
        return Lesson(dict.fromkeys(loads, prior), frozenset())
    grid = _Grid(prior)
    told = [likelihood(reading) for reading in readings]
    odd = {i for i in range(len(readings)) if is_out_of_order(i, readings)}
    for i in sorted(odd):
        told[i] = _widened(told[i], grid.cavity(i, readings, told, odd))
    while (found := _least_likely(grid, readings, told, odd)) is not None:
        odd.add(found)
        told[found] = _widened(told[found], grid.cavity(found, readings, told, odd))
    everything, sound = (
        grid.beliefs(loads, readings, told),
        grid.beliefs(loads, readings, [None if i in odd else one for i, one in enumerate(told)]),
    )
    warmer = grid.beliefs(loads, readings, [one.in_warmer_weather() for one in told])
    together = grid.together(loads, readings, told)
    beliefs = {}
    for id, belief in everything.items():
        moved = math.log(warmer[id].set_factor / belief.set_factor)
        sd = math.hypot(max(belief.set_factor_sd, sound[id].set_factor_sd), moved)
        sd = min(sd, prior.set_factor_sd)
        per_weather = min(max(_WEATHER_STAYS * moved, -sd), sd)
        beliefs[id] = Belief(belief.set_factor, sd, per_weather, together[id])
    return Lesson(beliefs, frozenset(odd))


def _least_likely(
    grid: "_Grid", readings: Sequence[Reading], told: Sequence[Likelihood], odd: set[int]
) -> int | None:
    """The reading, not yet flagged, that fits the rest worst, if it fits badly enough."""
    worst, found = CONTRADICTS_BELOW, None
    for i, one in enumerate(told):
        if i in odd:
            continue
        chance = one.chance(grid.cavity(i, readings, told, odd))
        if chance < worst:
            worst, found = chance, i
    return found


def _widened(one: Likelihood, cavity: tuple[float, float]) -> Likelihood:
    return one.widened(cavity, _STANDS_AT_SD)


class _Grid:
    """The logarithm of the set factor in steps, the mix's own law on it, and the spread between loads."""

    def __init__(self, prior: Belief) -> None:
        self.prior = prior
        sd, centre = prior.set_factor_sd, math.log(prior.set_factor)
        self.logs = [centre + sd * _REACH_SD * (k / _GRID * 2.0 - 1.0) for k in range(_GRID + 1)]
        between = min(_BETWEEN_LOADS_SD, _BETWEEN_SHARE * sd)
        shared = math.sqrt(sd * sd - between * between)
        self.mix = [math.exp(-0.5 * ((log - centre) / shared) ** 2) for log in self.logs]
        step = self.logs[1] - self.logs[0]
        reach = math.ceil(3.5 * between / step)
        kernel = [math.exp(-0.5 * (k * step / between) ** 2) for k in range(-reach, reach + 1)]
        total = sum(kernel)
        self.kernel, self.reach = [weight / total for weight in kernel], reach
        self.told: dict[Likelihood, Vector] = {}

    def beliefs(
        self, loads: Sequence[str], readings: Sequence[Reading], told: Sequence[Likelihood | None]
    ) -> dict[str, Belief]:
        """What all readings together say of each load; None stands for one left out."""
        own = self._own(readings, told)
        messages = {id: self._spread(chances) for id, chances in own.items()}
        plain = [1.0] * (_GRID + 1)
        beliefs = {}
        for id in loads:
            mean, sd = self._moments(_times(self._told_by_sisters(id, messages), own.get(id, plain)))
            least = min(_LEAST_SD, self.prior.set_factor_sd)
            beliefs[id] = Belief(math.exp(mean), min(self.prior.set_factor_sd, max(least, sd)))
        return beliefs

    def together(
        self, loads: Sequence[str], readings: Sequence[Reading], told: Sequence[Likelihood]
    ) -> dict[str, float]:
        """Correlation of each load with the first, to a hundredth: what they share is the mix, so that what
        is told of one load alone sets it apart from its sisters."""
        own, mix = self._own(readings, told), self.mix
        for chances in own.values():
            mix = _times(mix, self._spread(chances))
        sds = self.beliefs(loads, readings, told)
        expected = {id: self._given_the_mix(own.get(id)) for id in loads}
        first, total = loads[0], sum(mix)
        means = {id: sum(map(mul, mix, values)) / total for id, values in expected.items()}
        found = {}
        for id in loads:
            shared = sum(
                w * (a - means[first]) * (b - means[id])
                for w, a, b in zip(mix, expected[first], expected[id], strict=True)
            )
            correlation = shared / total / (sds[first].set_factor_sd * sds[id].set_factor_sd)
            found[id] = round(min(max(correlation, 0.0), 0.99), 2)
        return found

    def _given_the_mix(self, chances: Vector | None) -> Vector:
        """What is expected of a load at each level of the mix."""
        if chances is None:
            return self.logs
        weights = self._spread(chances)
        sums = self._spread(list(map(mul, chances, self.logs)))
        return [a / w if w > 0.0 else log for a, w, log in zip(sums, weights, self.logs, strict=True)]

    def cavity(
        self, i: int, readings: Sequence[Reading], told: Sequence[Likelihood], odd: set[int]
    ) -> tuple[float, float]:
        """Mean and sd of the logarithm for reading i's load, from everything but reading i."""
        rest: list[Likelihood | None] = list(told)
        rest[i] = None
        own = self._own(readings, rest)
        messages = {id: self._spread(chances) for id, chances in own.items()}
        id = readings[i].load
        plain = [1.0] * (_GRID + 1)
        return self._moments(_times(self._told_by_sisters(id, messages), own.get(id, plain)))

    def _own(self, readings: Sequence[Reading], told: Sequence[Likelihood | None]) -> dict[str, Vector]:
        """Likelihood per load of what was seen on it, its peak at 1."""
        sums: dict[str, Vector] = {}
        for reading, one in zip(readings, told, strict=True):
            if one is not None:
                before = sums.get(reading.load, [0.0] * (_GRID + 1))
                sums[reading.load] = list(map(add, before, self._densities(one)))
        return {id: _lifted(chances) for id, chances in sums.items()}

    def _densities(self, one: Likelihood) -> Vector:
        """What one reading says of each step; the same readings are weighed again and again."""
        if one not in self.told:
            self.told[one] = [one.log_density(log) for log in self.logs]
        return self.told[one]

    def _told_by_sisters(self, id: str, messages: dict[str, Vector]) -> Vector:
        mix = self.mix
        for sister, message in messages.items():
            if sister != id:
                mix = _times(mix, message)
        return self._spread(mix)

    def _spread(self, chances: Vector) -> Vector:
        """Blurred by what differs between loads."""
        reach = self.reach
        padded = [0.0] * reach + chances + [0.0] * reach
        width = 2 * reach + 1
        return [sum(map(mul, self.kernel, padded[k : k + width])) for k in range(_GRID + 1)]

    def _moments(self, chances: Vector) -> tuple[float, float]:
        total = sum(chances)
        mean = sum(map(mul, chances, self.logs)) / total
        spread = sum(w * (log - mean) ** 2 for w, log in zip(chances, self.logs, strict=True)) / total
        return mean, math.sqrt(spread)


def _times(a: Vector, b: Vector) -> Vector:
    product = list(map(mul, a, b))
    most = max(product)
    return [value / most for value in product] if most > 0.0 else a


def _lifted(logs: Vector) -> Vector:
    most = max(logs)
    return [math.exp(max(value - most, -600.0)) for value in logs]
