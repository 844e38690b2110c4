"""The members a forecast is made of, and the 10, 50 and 90 % times among them.

No chance is drawn: a lattice gives the same members everywhere.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

BRANCHES = (-2.0, 0.0, 2.0)  # standard deviations of the weather for which heat is solved
LIKELY = 1  # the middle one
_LEVELS, _PER_LEVEL = 16, 16  # levels of the weather, and members that share each
_COUNT = _LEVELS * _PER_LEVEL
# Member i stands at the stratum i * step mod 256 of set factor and of each reading. Of all odd steps these
# keep the 50 and 80 % points of any sum of weather, set factor and one reading nearest to the normal law's.
_STEPS = (105, 135, 55)
_SISTER_STEPS = (139, 79, 193, 37)  # of all odd steps the ones that leave the readings the least alike
SISTERS_TOGETHER = 0.75  # correlation of two loads' set factors, 0.10 of 0.20 being each load's own (EST)
QUANTILES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Member:
    """One way it may go, as standard normal deviates: weather, set factor, and the two readings (of firm
    enough, of too firm). Its weather lies a `share` [0..1] of the way from the middle branch to `far`.
    Members stand in the order of their weather, cool to warm."""

    weather_z: float
    far: int
    share: float
    set_z: float
    open_z: float
    close_z: float

    @property
    def branch(self) -> int:
        """The branch of the weather it is nearest to."""
        return self.far if self.share > 0.5 else LIKELY


@cache
def _strata(count: int) -> tuple[float, ...]:
    """The middles of equally likely strata of the normal law, brought to unit variance."""
    middles = [NormalDist().inv_cdf((k + 0.5) / count) for k in range(count)]
    spread = math.sqrt(math.fsum(z * z for z in middles) / count)
    return tuple(z / spread for z in middles)


def _members() -> tuple[Member, ...]:
    strata, members = _strata(_COUNT), []
    for level, weather_z in enumerate(_strata(_LEVELS)):
        far, share = (0 if weather_z < 0.0 else 2), abs(weather_z) / BRANCHES[2]
        for i in range(level * _PER_LEVEL, (level + 1) * _PER_LEVEL):
            set_z, open_z, close_z = (strata[i * step % _COUNT] for step in _STEPS)
            members.append(Member(weather_z, far, share, set_z, open_z, close_z))
    return tuple(members)


MEMBERS = _members()


def between(middle_s: Sequence[float], far_s: Sequence[float]) -> list[float]:
    """Per member the time [s] at its weather, from those in the middle branch and in its far one: straight
    between, the nearer one where either is infinite."""
    return [
        middle + (far - middle) * member.share
        if middle < math.inf and far < math.inf
        else (far if member.share > 0.5 else middle)
        for member, middle, far in zip(MEMBERS, middle_s, far_s, strict=True)
    ]


@cache
def sister_order(turn: int, together: float = SISTERS_TOGETHER) -> tuple[int, ...]:
    """Which member of the `turn`-th load goes with each member of the first: the same weather, set factors
    that go together as far as is told, readings that don't. Turn 0 is the first load itself.

    together -- correlation of the two loads' set factors [0..1]; that of one mix where no check has told more

    Every member comes up once, so that what is told of one load alone stays as it is.
    """
    if turn == 0:
        return tuple(range(_COUNT))
    step, own = _SISTER_STEPS[(turn - 1) % len(_SISTER_STEPS)], math.sqrt(1.0 - together**2)
    apart = _strata(_COUNT)
    order: list[int] = []
    for base in range(0, _COUNT, _PER_LEVEL):
        level = range(base, base + _PER_LEVEL)
        mixed = {k: together * MEMBERS[k].set_z + own * apart[k * step % _COUNT] for k in level}
        slowing = sorted(level, key=lambda k: MEMBERS[k].set_z)
        sisters = dict(zip(sorted(level, key=lambda k: round(mixed[k], 9)), slowing, strict=True))
        order += [sisters[k] for k in level]
    return tuple(order)


def quantiles(values: Sequence[float]) -> tuple[float, float, float]:
    """The 10, 50 and 90 % points of equally likely values (at least one).

    Source: linear between order statistics at (k - 1/2)/n, Hyndman and Fan (1996) type 5.

    >>> quantiles([4.0, 2.0, 3.0, 1.0, 5.0])
    (1.0, 3.0, 5.0)
    """
    ordered = sorted(values)
    early, likely, late = (quantile(ordered, share) for share in QUANTILES)
    return early, likely, late


def quantile(ordered: Sequence[float], share: float) -> float:
    """The point below which a share [0..1] of equally likely values lies, given in rising order."""
    position = min(max(share * len(ordered) - 0.5, 0.0), len(ordered) - 1.0)
    index = min(int(position), len(ordered) - 2) if len(ordered) > 1 else 0
    after = ordered[min(index + 1, len(ordered) - 1)]
    # Each rounding here keeps order, so that members in order have quantiles in order to the last digit.
    share_after = position - index
    between = ordered[index] * (1.0 - share_after) + after * share_after
    return min(max(between, ordered[index]), after)
