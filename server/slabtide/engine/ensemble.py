"""The members a forecast is made of, and the 10, 50 and 90 % times among them.

No chance is drawn: strata of the normal law, shuffled by a fixed stride, give the same members everywhere.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from statistics import NormalDist

# Three weather branches after Gauss and Hermite, standing for 1/6, 2/3 and 1/6 of the chances. Members
# count equally, so that order between two of their times survives into the order of their quantiles.
BRANCHES = (-math.sqrt(3.0), 0.0, math.sqrt(3.0))
LIKELY = 1  # the middle one
_MEMBERS_PER_BRANCH = (16, 64, 16)
_OPEN_STEP = (5, 29, 5)  # odd, so that strata of a second deviate come each once, out of step with the first
_CLOSE_STEP = (9, 9, 9)
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
    return ordered[index] + (after - ordered[index]) * (position - index)
