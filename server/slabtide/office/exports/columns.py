"""The columns of a list of jobs: what each holds, in which unit, and how its cell is read."""

import math
from collections.abc import Callable, Mapping
from dataclasses import dataclass

from slabtide.log.kinds.job import USES
from slabtide.office.exports.said import Said, said
from slabtide.office.exports.tables import head_of


class CellError(ValueError):
    """A cell that can't be read; `why` says what is wrong and what would be right."""

    def __init__(self, why: Said) -> None:
        super().__init__(why.message)
        self.why = why


@dataclass(frozen=True, slots=True)
class Column:
    """`field`: what the value becomes, in SI; `factor` turns the cell's unit into it."""

    field: str
    read: Callable[[str], object]
    factor: float = 1.0
    required: bool = False
    example: str = ""


def read_number(cell: str) -> float:
    """A plain number, decimal point. Raises `CellError`."""
    try:
        value = float(cell)
    except ValueError:
        raise CellError(said("no_number", value=cell)) from None
    if not math.isfinite(value) or "_" in cell:
        raise CellError(said("no_number", value=cell))
    return value


def read_count(cell: str) -> int:
    """A whole number. Raises `CellError`."""
    value = read_number(cell)
    if value != int(value):
        raise CellError(said("no_whole_number", value=cell))
    return int(value)


def read_use(cell: str) -> str:
    """One of the uses, however it is spelled. Raises `CellError`."""
    use = cell.strip().lower().replace(" ", "_").replace("-", "_")
    if use not in USES:
        raise CellError(said("use_unknown", value=cell, uses=", ".join(USES)))
    return use


def read_text(cell: str) -> str:
    """Text as it stands."""
    return cell


M3_PER_YD3, M2_PER_FT2, MM_PER_IN = 0.764554857984, 0.09290304, 25.4
COLUMNS: Mapping[str, Column] = {
    "name": Column("name", read_text, required=True, example="Harbor patio"),
    "place": Column("place", read_text, example="14 Lantern Row"),
    "latitude_deg": Column("latitude_deg", read_number, required=True, example="36.1"),
    "longitude_deg": Column("longitude_deg", read_number, required=True, example="-79.95"),
    "time_zone": Column("time_zone", read_text, required=True, example="America/New_York"),
    "use": Column("use", read_use, example="patio"),
    "customer": Column("customer", read_text, example="R. Ellery"),
    "pour_at": Column("pour_at", read_text, example="2026-07-14 07:00"),
    "volume_m3": Column("volume_m3", read_number, example="10.7"),
    "volume_yd3": Column("volume_m3", read_number, M3_PER_YD3),
    "loads": Column("loads", read_count, example="2"),
    "supplier": Column("supplier", read_text, example="Kettle Bend Ready Mix"),
    "slump_mm": Column("slump_mm", read_number, example="100"),
    "slump_in": Column("slump_mm", read_number, MM_PER_IN),
    "colour": Column("colour", read_text, example="sandstone"),
    "area_m2": Column("area_m2", read_number, example="93.5"),
    "area_ft2": Column("area_m2", read_number, M2_PER_FT2),
    "thickness_mm": Column("thickness_mm", read_number, example="114"),
    "thickness_in": Column("thickness_mm", read_number, MM_PER_IN),
    "note": Column("note", read_text, example="Gate on the left side"),
}
ALIASES = {
    "latitude": "latitude_deg",
    "longitude": "longitude_deg",
    "color": "colour",
    "yd3": "volume_yd3",
    "m3": "volume_m3",
}
LEFT_ASIDE = frozenset(head_of("jobs")) - COLUMNS.keys() - {"job"}
"""Columns that our own export has and a new job has no use for."""


def column_named(head: str) -> str | None:
    """The column a heading names: upper case, spaces and the usual short names taken in; None for none."""
    name = head.strip().lower().replace(" ", "_").replace("-", "_")
    name = ALIASES.get(name, name)
    return name if name in COLUMNS or name == "job" or name in LEFT_ASIDE else None
