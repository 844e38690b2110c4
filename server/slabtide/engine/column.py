"""One-dimensional heat conduction through slab, insulation and ground: the grid and its implicit step."""

from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise

CONCRETE_K_W_M_K = 1.8  # fresh and young concrete, 1.8 to 2.2 (EST)
CONCRETE_RHO_KG_M3 = 2350.0
CONCRETE_CP_J_KG_K = 1050.0
SOIL_K_W_M_K = 1.3  # moist soil, 1.0 to 1.7 (EST)
SOIL_RHO_KG_M3 = 1900.0
SOIL_CP_J_KG_K = 1100.0
_CONTACT_R_M2K_W = 0.01  # slab to what lies under it (EST)
_FIRST_CELL_M, _WIDEST_CELL_M, _GROWTH = 0.005, 0.020, 1.5
_SOIL_CELLS_M = (0.02, 0.04, 0.08, 0.16, 0.30, 0.40)


@dataclass(frozen=True, slots=True)
class Column:
    """Nodes from the surface down. Node 0 lies on the surface itself, with half a cell below it.

    `capacity` [J/m2·K] per node; `conductance` [W/m2·K] from each node to the next, the last to the ground
    at depth, held at its own temperature; `share` of the slab's depth per concrete node (sum 1); `depth_m`
    of each concrete node; `slab_nodes` of them are concrete.
    """

    capacity: tuple[float, ...]
    conductance: tuple[float, ...]
    share: tuple[float, ...]
    depth_m: tuple[float, ...]
    slab_nodes: int


def slab_column(
    thickness_m: float, insulation_r_m2k_w: float, k: float = CONCRETE_K_W_M_K, cp: float = CONCRETE_CP_J_KG_K
) -> Column:
    """The column under a slab: cells of 5 mm at the surface growing to 20 mm, a metre of soil below.

    thickness_m, insulation_r_m2k_w -- as in `pour.Slab`
    k, cp -- conductivity [W/m·K] and heat capacity [J/kg·K] of the concrete

    Source: finite volumes; slab and soil properties after Bentz, NISTIR 6551 (2000), with concrete and soil
    moist instead of dry (EST).
    """
    cells = _cells(thickness_m)
    concrete = [0.0] * (len(cells) + 1)
    for index, width in enumerate(cells):
        concrete[index] += width / 2.0
        concrete[index + 1] += width / 2.0
    depths = [sum(cells[:index]) for index in range(len(cells) + 1)]
    half_soil = [width / 2.0 for width in _SOIL_CELLS_M]
    gaps = [half_soil[0] / SOIL_K_W_M_K + insulation_r_m2k_w + _CONTACT_R_M2K_W]
    gaps += [(a + b) / SOIL_K_W_M_K for a, b in pairwise(half_soil)]
    gaps.append(half_soil[-1] / SOIL_K_W_M_K)
    return Column(
        capacity=tuple(width * CONCRETE_RHO_KG_M3 * cp for width in concrete)
        + tuple(width * SOIL_RHO_KG_M3 * SOIL_CP_J_KG_K for width in _SOIL_CELLS_M),
        conductance=tuple(k / width for width in cells) + tuple(1.0 / gap for gap in gaps),
        share=tuple(width / thickness_m for width in concrete),
        depth_m=tuple(depths),
        slab_nodes=len(concrete),
    )


def _cells(thickness_m: float) -> list[float]:
    """Cell widths that grow from the surface and add up to the thickness."""
    widths = []
    width, left = _FIRST_CELL_M, thickness_m
    while width < _WIDEST_CELL_M and left > 2.0 * width:
        widths.append(width)
        left -= width
        width *= _GROWTH
    rest = max(1, round(left / min(width, _WIDEST_CELL_M)))
    return widths + [left / rest] * rest


class Stepper:
    """The implicit step of one length over one column, its elimination done once.

    Only the surface row changes from step to step, so the column is eliminated from the ground up and
    just the surface is left to solve.
    """

    def __init__(self, column: Column, span_s: float, weight: float) -> None:
        """`weight` multiplies C/dt on the left: 1 for a backward Euler step, more for BDF2."""
        self.rate = [capacity / span_s for capacity in column.capacity]
        self.ground = column.conductance[-1]
        above = [0.0, *column.conductance[:-1]]
        self.size = len(column.capacity)
        self.factor = [0.0] * self.size  # what node i passes up to node i - 1
        self.inverse = [0.0] * self.size
        carried = self.diagonal_top = 0.0
        for i in range(self.size - 1, -1, -1):
            diagonal = self.rate[i] * weight + above[i] + column.conductance[i] - carried
            self.diagonal_top = diagonal
            self.inverse[i] = 1.0 / diagonal
            self.factor[i] = above[i] / diagonal
            carried = above[i] * self.factor[i]

    def solve(
        self, right: Sequence[float], ground_temp_c: float, surface_w_m2: float, surface_h: float
    ) -> list[float]:
        """Temperatures after the step [°C]: the three below, one after the other."""
        rows = list(right)
        passed = self.eliminate(rows, ground_temp_c)
        self.fill(rows, self.surface_c(rows[0], passed, surface_w_m2, surface_h))
        return rows

    def eliminate(self, rows: list[float], ground_temp_c: float) -> float:
        """Eliminate the rows under the surface, in place, from the ground up; returns what comes up to the
        surface's row [W/m2].

        rows -- per node: stored heat over the step plus sources [W/m2]
        """
        factor, passed = self.factor, self.ground * ground_temp_c
        for i in range(self.size - 1, 0, -1):
            row = rows[i] + passed
            rows[i] = row
            passed = factor[i] * row
        return passed

    def surface_c(self, right: float, passed: float, surface_w_m2: float, surface_h: float) -> float:
        """The surface's temperature after the step [°C].

        right, passed -- the surface's own right side, and what comes up to it [W/m2]
        surface_w_m2, surface_h -- the flux into the surface is surface_w_m2 - surface_h T [W/m2]
        """
        return (right + surface_w_m2 + passed) / (self.diagonal_top + surface_h)

    def fill(self, rows: list[float], surface_c: float) -> None:
        """Put the temperatures of all nodes after the step [°C] in place of the rows eliminated."""
        inverse, factor = self.inverse, self.factor
        rows[0] = temp = surface_c
        for i in range(1, self.size):
            temp = rows[i] * inverse[i] + factor[i] * temp
            rows[i] = temp
