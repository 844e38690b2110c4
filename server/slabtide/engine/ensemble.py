"""The members a forecast is made of, and the 10, 50 and 90 % times among them.

No chance is drawn: strata of the normal law, shuffled by a fixed stride, give the same members everywhere.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from functools import cache
from statistics import NormalDist

# Three weather branches after Gauss and Hermite, standing for 1/6, 2/3 and 1/6 of the chances. Members
# count equally, so that order between two of their times survives into the order of their quantiles.
BRANCHES = (-math.sqrt(3.0), 0.0, math.sqrt(3.0))
LIKELY = 1  # the middle one
_MEMBERS_PER_BRANCH = (16, 64, 16)
_OPEN_STEP = (5, 29, 5)  # odd, so that strata of a second deviate come each once, out of step with the first
_CLOSE_STEP = (9, 9, 9)
_SISTER_STEPS = ((13,), (41, 27, 29, 9), (13,))  # odd, so that each comes once; the least alike of all
_SISTERS_TOGETHER = 0.75  # correlation of two loads' set factors, 0.10 of 0.20 being each load's own (EST)
QUANTILES = (0.1, 0.5, 0.9)


@dataclass(frozen=True, slots=True)
class Member:
    """One way it may go: weather branch, and standard normal deviates of set factor and of the two readings
    (of firm enough, of too firm)."""

    branch: int
    set_z: float
    open_z: float
    close_z: float


def _members() -> tuple[Member, ...]:
    members = []
    for branch, count in enumerate(_MEMBERS_PER_BRANCH):
        strata = [NormalDist().inv_cdf((k + 0.5) / count) for k in range(count)]
        for k in range(count):
            open_z = strata[k * _OPEN_STEP[branch] % count]
            members.append(Member(branch, strata[k], open_z, strata[k * _CLOSE_STEP[branch] % count]))
    return tuple(members)


MEMBERS = _members()


@cache
def sister_order(turn: int) -> tuple[int, ...]:
    """Which member of the `turn`-th load goes with each member of the first: the same weather, set factors
    that go together as far as loads of one mix do, readings that don't. Turn 0 is the first load itself.

    Every member comes up once, so that what is told of one load alone stays as it is.
    """
    order: list[int] = []
    for count, steps in zip(_MEMBERS_PER_BRANCH, _SISTER_STEPS, strict=True):
        step = steps[(turn - 1) % len(steps)]
        strata = [NormalDist().inv_cdf((k + 0.5) / count) for k in range(count)]
        own = math.sqrt(1.0 - _SISTERS_TOGETHER**2)
        mixed = [_SISTERS_TOGETHER * strata[k] + own * strata[k * step % count] for k in range(count)]
        ranked = sorted(range(count), key=lambda k: (round(mixed[k], 9), k))
        places = {k: rank for rank, k in enumerate(ranked)}
        base = len(order)
        order += [base + (places[k] if turn else k) for k in range(count)]
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
