"""A drawing scale: the largest usual one at which a slab fits the space, and metres onto paper."""

from collections.abc import Sequence
from dataclasses import dataclass

from slabtide.log.model import Spot
from slabtide.office.record.contract import System
from slabtide.office.record.measures import M_PER_FOOT

# Real length over drawn length, and how the scale is written. Usual drawing scales of either system.
_US = (
    (24, '1/2" = 1\''), (32, '3/8" = 1\''), (48, '1/4" = 1\''), (64, '3/16" = 1\''), (96, '1/8" = 1\''),
    (128, '3/32" = 1\''), (192, '1/16" = 1\''), (240, "1\" = 20'"), (360, "1\" = 30'"), (480, "1\" = 40'"),
    (720, "1\" = 60'"), (1200, "1\" = 100'"), (2400, "1\" = 200'"), (6000, "1\" = 500'"),
    (12000, "1\" = 1000'"), (24000, "1\" = 2000'"),
)  # fmt: skip
_METRIC = tuple(
    (ratio, f"1:{ratio}")
    for ratio in (20, 25, 50, 75, 100, 125, 150, 200, 250, 500, 750, 1000, 2000, 5000, 10000, 20000)
)


@dataclass(frozen=True, slots=True)
class Scale:
    """Where metres fall on the page, in mm; y runs up on the plan and down on paper."""

    ratio: float
    name: str
    left_mm: float
    bottom_mm: float
    x0_m: float
    y0_m: float

    def at(self, spot: Spot | Sequence[float]) -> tuple[float, float]:
        """A point of the plan on the page."""
        x, y = spot[0], spot[1]
        return self.left_mm + self.mm(x - self.x0_m), self.bottom_mm - self.mm(y - self.y0_m)

    def mm(self, length_m: float) -> float:
        """A length on paper."""
        return length_m * 1000 / self.ratio


@dataclass(frozen=True, slots=True)
class Extent:
    """The rectangle around points, m."""

    x0: float
    y0: float
    x1: float
    y1: float

    @classmethod
    def of(cls, spots: Sequence[Spot]) -> "Extent":
        """Around these points."""
        xs, ys = [spot[0] for spot in spots], [spot[1] for spot in spots]
        return cls(min(xs), min(ys), max(xs), max(ys))

    @property
    def wide_m(self) -> float:
        """Along x."""
        return self.x1 - self.x0

    @property
    def high_m(self) -> float:
        """Along y."""
        return self.y1 - self.y0


def best_ratio(extent: Extent, wide_mm: float, high_mm: float, system: System) -> tuple[float, str]:
    """The largest usual scale at which the extent fits a space."""
    known = _US if system == "us" else _METRIC
    for ratio, name in known:
        if extent.wide_m * 1000 / ratio <= wide_mm and extent.high_m * 1000 / ratio <= high_mm:
            return ratio, name
    return known[-1]


def bar_lengths(ratio: float, system: System, most_mm: float = 60.0) -> list[tuple[float, str]]:
    """The marks of a scale bar: distance in metres and what is written there; the last fits `most_mm`."""
    steps = (0.1, 0.2, 0.5, 1, 2, 5, 10, 20, 50, 100, 200, 500, 1000)
    unit_m, sign = (M_PER_FOOT, "'") if system == "us" else (1.0, " m")
    fitting = [step for step in steps if step * 4 * unit_m * 1000 / ratio <= most_mm]
    step = fitting[-1] if fitting else steps[0]
    return [(count * step * unit_m, f"{count * step:g}{sign if count == 4 else ''}") for count in range(5)]
