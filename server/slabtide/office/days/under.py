"""Which loads a cut runs over: those of the bays on either side of it, from end to end."""

from collections.abc import Sequence

from slabtide.log.model import Bay

BESIDE_M = 0.05  # a cut between two bays lies in neither: look a hand's breadth to both sides
_STEPS = 20
Point = tuple[float, float]


def loads_under(start: Point, end: Point, bays: Sequence[Bay]) -> tuple[str, ...]:
    """The loads of all bays that a line from `start` to `end` [m] runs over or along, in the bays' order."""
    spots = _beside(start, end)
    found = [
        bay.load for bay in bays if bay.load is not None and any(inside(bay.corners, spot) for spot in spots)
    ]
    return tuple(dict.fromkeys(found))


def inside(corners: Sequence[Point], spot: Point) -> bool:
    """Whether a spot lies in a polygon (even-odd rule)."""
    within = False
    for (ax, ay), (bx, by) in zip(corners, [*corners[1:], corners[0]], strict=True):
        if (ay > spot[1]) != (by > spot[1]) and spot[0] < (bx - ax) * (spot[1] - ay) / (by - ay) + ax:
            within = not within
    return within


def _beside(start: Point, end: Point) -> list[Point]:
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = (dx * dx + dy * dy) ** 0.5
    if length == 0.0:
        return [start]
    aside = (-dy / length * BESIDE_M, dx / length * BESIDE_M)
    shares = [(step + 0.5) / _STEPS for step in range(_STEPS)]
    return [
        (start[0] + dx * share + side * aside[0], start[1] + dy * share + side * aside[1])
        for share in shares
        for side in (-1.0, 1.0)
    ]
