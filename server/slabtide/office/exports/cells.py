"""Cells of a CSV file that a spreadsheet opens without taking any of them for a formula.

A cell of text that a spreadsheet could read as a formula gets an apostrophe in front, and so does one that
begins with an apostrophe itself; taking one apostrophe off such cells gives back exactly what went in.
Source: OWASP, CSV Injection (from memory, not verified), with the full-width signs added.
"""

import csv
import io
from collections.abc import Iterable, Sequence

STARTS = frozenset("=+-@|\t\r\n＝＋－＠")
QUOTE = "'"
Cell = str | float | int | bool | None


def written(value: Cell) -> str:
    """A value as its cell's text: numbers plain, yes and no, nothing for None, text made safe."""
    if value is None:
        return ""
    if isinstance(value, bool):
        return "yes" if value else "no"
    if isinstance(value, int | float):
        return f"{value:.12g}"
    return safe(value)


def safe(text: str) -> str:
    """Text that no spreadsheet takes for a formula."""
    return QUOTE + text if _is_risky(text) or text.startswith(QUOTE) else text


def plain(cell: str) -> str:
    """What `safe` was given."""
    rest = cell[1:]
    return rest if cell.startswith(QUOTE) and (_is_risky(rest) or rest.startswith(QUOTE)) else cell


def _is_risky(text: str) -> bool:
    return text[:1] in STARTS or text.lstrip()[:1] in STARTS if text else False


def csv_lines(rows: Iterable[Sequence[Cell]]) -> str:
    """Rows as CSV text (RFC 4180: commas, CRLF)."""
    out = io.StringIO(newline="")
    csv.writer(out, lineterminator="\r\n").writerows([written(cell) for cell in row] for row in rows)
    return out.getvalue()
