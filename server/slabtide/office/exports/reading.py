"""A list of jobs as CSV, read whole: every wrong cell named by its row and column, in words."""

import csv
import io
from dataclasses import dataclass, field
from difflib import get_close_matches

from slabtide.errors import AppError
from slabtide.office.exports.cells import plain
from slabtide.office.exports.columns import COLUMNS, LEFT_ASIDE, CellError, column_named
from slabtide.office.exports.said import Said, said

MOST_ROWS = 300
MOST_COLUMNS = 60
MOST_BYTES = 1 << 20
MOST_PROBLEMS = 200
_NO_TEXT = ("The file is no CSV text.", "Save it as “CSV UTF-8” and send it again.")


class ListError(AppError):
    """The file is no list that can be read at all."""


class _RowError(Exception):
    """The file can be read up to a row."""

    def __init__(self, row: int, why: Said) -> None:
        super().__init__(why.message)
        self.problem = Problem(row, "", why)


@dataclass(frozen=True, slots=True)
class Problem:
    """What is wrong with a cell. `row` as a spreadsheet counts, the heading being row 1."""

    row: int
    column: str
    why: Said

    @property
    def message(self) -> str:
        """In English."""
        return self.why.message

    def as_json(self) -> dict[str, object]:
        """For the wire."""
        told = {"code": self.why.code, "params": dict(self.why.params), "message": self.message}
        return {"row": self.row, "column": self.column} | told


@dataclass(frozen=True, slots=True)
class Line:
    """A row's values in SI by field, and the column each came from."""

    row: int
    values: dict[str, object]
    columns: dict[str, str]


@dataclass(slots=True)
class Listed:
    """What a file holds: its rows, what is wrong, and the columns that were left aside."""

    lines: list[Line] = field(default_factory=list)
    problems: list[Problem] = field(default_factory=list)
    left_aside: list[str] = field(default_factory=list)


def read_list(data: bytes) -> Listed:
    """The rows of a list; blank rows are passed over. Raises `ListError` for what is no such file."""
    listed = Listed()
    try:
        rows = _rows(data)
    except _RowError as wrong:
        listed.problems.append(wrong.problem)
        return listed
    names = _heading(rows[0], listed)
    if listed.problems:
        return listed
    for number, cells in enumerate(rows[1:], 2):
        if any(cell.strip() for cell in cells):
            listed.lines.append(_line(number, names, cells, listed.problems))
    if not listed.lines:
        raise ListError(
            "The list has a heading and no jobs.",
            "Write one job in each row below the heading.",
            code="list_no_jobs",
        )
    return listed


def _rows(data: bytes) -> list[list[str]]:
    try:
        text = data.decode("utf-8-sig")
    except UnicodeDecodeError:
        raise ListError(*_NO_TEXT, code="list_no_text") from None
    if "\x00" in text:
        raise ListError(*_NO_TEXT, code="list_no_text")
    mark = _separator(text)
    rows: list[list[str]] = []
    try:
        for cells in csv.reader(io.StringIO(text, newline=""), delimiter=mark, strict=True):
            if len(rows) > MOST_ROWS:
                words = (f"The list has over {MOST_ROWS} rows.", "Send it in smaller parts.")
                raise ListError(*words, code="list_too_long", status=413)
            if len(cells) > MOST_COLUMNS:
                raise _RowError(len(rows) + 1, said("row_too_wide", most=MOST_COLUMNS))
            rows.append([_point(cell, mark) for cell in cells])
    except csv.Error:
        raise _RowError(len(rows) + 1, said("row_unreadable")) from None
    if not rows or not any(cell.strip() for cell in rows[0]):
        raise ListError("The list is empty.", "Begin with the template's heading.", code="list_empty")
    return rows


def _separator(text: str) -> str:
    """Comma, semicolon or tab: what the heading has most of."""
    heading = text.split("\n", 1)[0]
    return max(",;\t", key=heading.count)


def _point(cell: str, mark: str) -> str:
    """Where the semicolon parts cells, a comma is the decimal sign of numbers."""
    if mark == ";" and cell.count(",") == 1 and cell.strip().replace(",", "").lstrip("-").isdigit():
        return cell.replace(",", ".")
    return cell


def _heading(cells: list[str], listed: Listed) -> list[str]:
    names = []
    for place, cell in enumerate(cells, 1):
        name = column_named(cell)
        if name is None and cell.strip():
            near = get_close_matches(cell.strip().lower(), COLUMNS, 1, 0.6)
            known = ", ".join(COLUMNS)
            why = said("column_near", near=near[0]) if near else said("column_unknown", known=known)
            listed.problems.append(Problem(1, cell.strip()[:40], why))
        elif name in names and name in COLUMNS:
            listed.problems.append(Problem(1, name or "", said("column_twice")))
        elif name is None and not cell.strip():
            name = f"(column {place})"
        if name in LEFT_ASIDE:
            listed.left_aside.append(str(name))
        names.append(name or "")
    for name, column in COLUMNS.items():
        if column.required and name not in names:
            listed.problems.append(Problem(1, name, said("column_missing")))
    return names


def _line(row: int, names: list[str], cells: list[str], problems: list[Problem]) -> Line:
    line = Line(row, {}, {})
    if len(cells) > len(names) and any(cell.strip() for cell in cells[len(names) :]):
        problems.append(Problem(row, "", said("row_too_long")))
    for name, cell in zip(names, cells, strict=False):
        text = plain(cell).strip()
        if not text:
            continue
        if name.startswith("(column"):
            problems.append(Problem(row, name, said("cell_unheaded")))
        elif name == "job":
            line.values["job"] = text
        elif name in COLUMNS:
            _value(line, name, text, problems)
    for name, column in COLUMNS.items():
        if column.required and column.field not in line.columns:
            problems.append(Problem(row, name, said("cell_empty")))
    return line


def _value(line: Line, name: str, text: str, problems: list[Problem]) -> None:
    column = COLUMNS[name]
    before = line.columns.get(column.field)
    line.columns[column.field] = name
    if before is not None:
        problems.append(Problem(line.row, name, said("said_twice", other=before)))
        return
    try:
        value = column.read(text)
    except CellError as problem:
        problems.append(Problem(line.row, name, problem.why))
        return
    if column.factor != 1.0 and isinstance(value, float):
        value = float(f"{value * column.factor:.9g}")
    line.values[column.field] = value
