"""Plane geometry of outlines: simple or not, area, perimeter. Metres."""

import math
from collections.abc import Iterable, Sequence

Point = tuple[float, float]
SMALLEST_AREA_M2 = 0.01


def problem(corners: Sequence[Point]) -> str | None:
    """What keeps the corners from being an outline, in plain words; None when they are one."""
    edges = [(corners[i], corners[(i + 1) % len(corners)]) for i in range(len(corners))]
    for number, (start, end) in enumerate(edges, 1):
        if start == end:
            return f"Corners {number} and {number % len(corners) + 1} are the same point. Remove one."
    crossing = _crossing(edges)
    if crossing:
        first, second = crossing
        return f"Sides {first + 1} and {second + 1} cross or touch. Move a corner so that they don't."
    if area_m2(corners) < SMALLEST_AREA_M2:
        return "The outline holds no area. Check the corners."
    return None


def area_m2(corners: Sequence[Sequence[float]]) -> float:
    """Area inside a simple polygon, m²."""
    return abs(_signed_area_m2(corners))


def _signed_area_m2(corners: Sequence[Sequence[float]]) -> float:
    """Area of a simple polygon, m²; below zero where its corners run clockwise."""
    x0, y0 = corners[0][0], corners[0][1]
    total = 0.0
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        total += (here[0] - x0) * (there[1] - y0) - (there[0] - x0) * (here[1] - y0)
    return total / 2


def perimeter_m(corners: Sequence[Sequence[float]]) -> float:
    """Length around a polygon, m."""
    total = 0.0
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        total += math.sqrt((there[0] - here[0]) ** 2 + (there[1] - here[1]) ** 2)
    return total


def share_of_sides(corners: Sequence[Sequence[float]], sides: Iterable[int]) -> float:
    """Length of some sides (corner i to the next) over the length around, 0..1."""
    wanted = set(sides)
    around = perimeter_m(corners)
    length = sum(
        perimeter_m([corners[i], corners[(i + 1) % len(corners)]]) / 2
        for i in sorted(wanted)
        if i < len(corners)
    )
    return min(1.0, length / around) if around > 0 else 0.0


def reentrant_corners(corners: Sequence[Sequence[float]]) -> int:
    """How many corners turn inwards: inner angle above 180°."""
    turns = [_turn(corners[i - 1], corners[i], corners[(i + 1) % len(corners)]) for i in range(len(corners))]
    way = 1 if _signed_area_m2(corners) > 0 else -1
    return sum(turn * way < -1e-9 for turn in turns)


def _turn(before: Sequence[float], here: Sequence[float], after: Sequence[float]) -> float:
    along_x, along_y = here[0] - before[0], here[1] - before[1]
    return along_x * (after[1] - here[1]) - along_y * (after[0] - here[0])


def _crossing(edges: list[tuple[Point, Point]]) -> tuple[int, int] | None:
    count = len(edges)
    for i in range(count):
        for j in range(i + 1, count):
            neighbours = j == i + 1 or (i == 0 and j == count - 1)
            if _fold_back(edges[i], edges[j]) if neighbours else _touch(edges[i], edges[j]):
                return i, j
    return None


def _fold_back(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    """Neighbouring edges share a corner by right; they clash when one runs back along the other."""
    shared = first[1] if first[1] in second else first[0]
    a = first[0] if shared == first[1] else first[1]
    b = second[1] if shared == second[0] else second[0]
    along = (a[0] - shared[0]) * (b[0] - shared[0]) + (a[1] - shared[1]) * (b[1] - shared[1])
    return _side(shared, a, b) == 0 and along > 0


def _touch(first: tuple[Point, Point], second: tuple[Point, Point]) -> bool:
    (a, b), (c, d) = first, second
    sides = _side(a, b, c), _side(a, b, d), _side(c, d, a), _side(c, d, b)
    if sides[0] * sides[1] < 0 and sides[2] * sides[3] < 0:
        return True
    return (
        (sides[0] == 0 and _between(a, b, c))
        or (sides[1] == 0 and _between(a, b, d))
        or (sides[2] == 0 and _between(c, d, a))
        or (sides[3] == 0 and _between(c, d, b))
    )


def _side(a: Point, b: Point, c: Point) -> int:
    turn = (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])
    return 0 if abs(turn) < 1e-9 else (1 if turn > 0 else -1)


def _between(a: Point, b: Point, c: Point) -> bool:
    return min(a[0], b[0]) - 1e-9 <= c[0] <= max(a[0], b[0]) + 1e-9 and (
        min(a[1], b[1]) - 1e-9 <= c[1] <= max(a[1], b[1]) + 1e-9
    )
