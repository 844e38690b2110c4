"""Fall of a slab from level shots: a least-squares plane, its direction, and low spots.

A rod reading is larger where the ground is lower, so height is minus the reading, from any datum.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass

Shot = tuple[float, float, float]
"""x, y on the plan and the rod reading, metres."""
Point = Sequence[float]
FLAT_PERCENT = 1e-6


@dataclass(frozen=True, slots=True)
class Plane:
    """Height = rise_x·(x − x0) + rise_y·(y − y0) + height0, metres; rises in m/m."""

    rise_x: float
    rise_y: float
    x0: float
    y0: float
    height0: float

    @property
    def fall_percent(self) -> float:
        """Steepest fall, %."""
        return 100 * math.sqrt(self.rise_x**2 + self.rise_y**2)

    @property
    def direction_deg(self) -> float | None:
        """Where water runs, degrees counter-clockwise from the plan's x axis, 0 to 360; None when flat."""
        if self.fall_percent < FLAT_PERCENT:
            return None
        return (math.degrees(math.atan2(-self.rise_y, -self.rise_x)) + 360) % 360

    def height(self, x: float, y: float) -> float:
        """Height of the plane at a point, m, from the rod's datum (minus the reading)."""
        return self.rise_x * (x - self.x0) + self.rise_y * (y - self.y0) + self.height0


def fit_plane(shots: Sequence[Shot]) -> Plane | None:
    """Least-squares plane through the shots; None for fewer than three or all in one line."""
    if len(shots) < 3:
        return None
    count = len(shots)
    x0 = sum(x for x, _, _ in shots) / count
    y0 = sum(y for _, y, _ in shots) / count
    height0 = sum(-reading for _, _, reading in shots) / count
    xx = sum((x - x0) ** 2 for x, _, _ in shots)
    yy = sum((y - y0) ** 2 for _, y, _ in shots)
    xy = sum((x - x0) * (y - y0) for x, y, _ in shots)
    determinant = xx * yy - xy * xy
    if determinant <= 1e-9 * (xx + yy) ** 2:
        return None
    xh = sum((x - x0) * (-reading - height0) for x, _, reading in shots)
    yh = sum((y - y0) * (-reading - height0) for _, y, reading in shots)
    rise_x = (xh * yy - yh * xy) / determinant
    rise_y = (yh * xx - xh * xy) / determinant
    return Plane(rise_x, rise_y, x0, y0, height0)


def away_from(corners: Sequence[Point], edge: int) -> tuple[float, float]:
    """Unit vector square to side `edge` (corner to next corner), pointing into the slab."""
    here, there = corners[edge], corners[(edge + 1) % len(corners)]
    along_x, along_y = there[0] - here[0], there[1] - here[1]
    length = math.sqrt(along_x**2 + along_y**2)
    turn = 1.0 if _is_counter_clockwise(corners) else -1.0
    return -turn * along_y / length, turn * along_x / length


def fall_away_percent(plane: Plane, corners: Sequence[Point], edge: int) -> float:
    """Fall square to a side and away from it, %; negative when water runs toward it."""
    away_x, away_y = away_from(corners, edge)
    return -100 * (plane.rise_x * away_x + plane.rise_y * away_y)


def below_plane_m(plane: Plane, shot: Shot) -> float:
    """How far a shot lies below the plane, m; negative above it."""
    x, y, reading = shot
    return plane.height(x, y) + reading


def _is_counter_clockwise(corners: Sequence[Point]) -> bool:
    x0, y0 = corners[0][0], corners[0][1]
    total = 0.0
    for here, there in zip(corners, [*corners[1:], corners[0]], strict=True):
        total += (here[0] - x0) * (there[1] - y0) - (there[0] - x0) * (here[1] - y0)
    return total > 0
