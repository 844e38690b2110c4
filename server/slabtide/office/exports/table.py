"""What a table of the export is: its columns, and its rows of one job."""

from collections.abc import Callable, Iterator, Mapping, Sequence
from dataclasses import dataclass

from slabtide.log.model import JobView
from slabtide.office.exports.cells import Cell

People = Mapping[str, str]
Rows = Iterator[Sequence[Cell]]
SPOT = ("x_m", "y_m")
LINE = ("from_x_m", "from_y_m", "to_x_m", "to_y_m")
END = ("by", "event")


@dataclass(frozen=True, slots=True)
class Table:
    """A file of the export: its columns after the job's id and name, and its rows of one job."""

    columns: tuple[str, ...]
    rows: Callable[[JobView, People], Rows]


def load_numbers(view: JobView) -> dict[str | None, int]:
    """The number of each load, by its id."""
    return {load.id: load.number for load in view.loads}


def bay_labels(view: JobView) -> dict[str | None, str]:
    """The label of each bay, by its id."""
    return {bay.id: bay.label for bay in view.bays}
