"""Tables that flow over pages, their head repeated; columns as wide as what stands in them wants."""

from collections.abc import Sequence

from slabtide.office.record.paper import (
    FAINT,
    GROUND,
    INK,
    LEADING,
    MARGIN_MM,
    MM_PER_PT,
    SOFT,
    Paper,
)

SIZE_PT = 8.5
STEP_MM = SIZE_PT * MM_PER_PT * LEADING
PAD_MM = 1.2
MOST_ROWS = 2000
"""Rows of one table at most; `more` says that there are others."""

Row = Sequence[str]


def table(paper: Paper, head: Row, rows: Sequence[Row], *, more: str = "", bold_first: bool = False) -> None:
    """Draw a table. Empty columns are left out; `more` (with {count}) stands below one cut short."""
    if not rows:
        return
    shown = list(rows[:MOST_ROWS])
    kept = [i for i in range(len(head)) if any(row[i] for row in shown)]
    names = [head[i] for i in kept]
    cells = [[row[i] for i in kept] for row in shown]
    widths = _widths(paper, names, cells)
    _head(paper, names, widths, first=True)
    for row in cells:
        _row(paper, row, names, widths, bold_first)
    paper.y_mm += 1.5
    if len(rows) > MOST_ROWS and more:
        paper.paragraph(more.format(count=len(rows) - MOST_ROWS), 8.5, SOFT)


def _widths(paper: Paper, names: Row, cells: Sequence[Row]) -> list[float]:
    """Each column gets what its longest word needs, and its share of the rest by how much stands in it."""
    paper.write_with(SIZE_PT, "B")
    least, wish = [], []
    for index, name in enumerate(names):
        column = [paper.letters.printable(row[index]) for row in cells[:200]]
        words = [word for text in (*column, name) for word in text.replace("\n", " ").split(" ")]
        longest = max((paper.measured(word) for word in words), default=4.0)
        full = max(paper.measured(text.split("\n")[0][:90]) for text in (*column, name))
        least.append(min(longest, 46.0) + 2 * PAD_MM)
        wish.append(max(full + 2 * PAD_MM, least[-1]))
    free = paper.wide_mm - sum(least)
    if free <= 0:
        return [width * paper.wide_mm / sum(least) for width in least]
    wanted = sum(wish) - sum(least)
    share = min(1.0, free / wanted) if wanted > 0 else 1.0
    widths = [low + (high - low) * share for low, high in zip(least, wish, strict=True)]
    spare = (paper.wide_mm - sum(widths)) / len(widths)
    return [width + spare for width in widths]


def _head(paper: Paper, names: Row, widths: Sequence[float], first: bool) -> None:
    paper.write_with(SIZE_PT, "B", SOFT)
    lines = [paper.wrapped(name, width - 2 * PAD_MM) for name, width in zip(names, widths, strict=True)]
    height = STEP_MM * max(len(cell) for cell in lines) + 1.6
    if first and paper.need(height + 2 * STEP_MM):
        paper.write_with(SIZE_PT, "B", SOFT)
    paper.set_fill_color(*GROUND)
    paper.rect(MARGIN_MM, paper.y_mm, sum(widths), height, style="F")
    _cells(paper, lines, widths, 0.8)
    paper.y_mm += height
    paper.line_at(MARGIN_MM, paper.y_mm, MARGIN_MM + sum(widths), paper.y_mm)


def _row(paper: Paper, row: Row, names: Row, widths: Sequence[float], bold_first: bool) -> None:
    paper.write_with(SIZE_PT)
    lines = [paper.wrapped(text, width - 2 * PAD_MM) for text, width in zip(row, widths, strict=True)]
    while True:
        tall = max(len(cell) for cell in lines)
        fits = int((paper.left_mm - 1.4) / STEP_MM)
        if tall > fits and (fits < 2 or tall <= 30):
            paper.new_page()
            _head(paper, names, widths, first=False)
            fits = int((paper.left_mm - 1.4) / STEP_MM)
        now = [cell[:fits] for cell in lines]
        lines = [cell[fits:] for cell in lines]
        _draw_row(paper, now, widths, bold_first)
        if not any(lines):
            return


def _draw_row(paper: Paper, now: Sequence[Row], widths: Sequence[float], bold_first: bool) -> None:
    height = STEP_MM * max(len(cell) for cell in now) + 1.2
    paper.write_with(SIZE_PT, "B" if bold_first else "", INK)
    _cells(paper, now[:1], widths[:1], 0.6)
    paper.write_with(SIZE_PT)
    _cells(paper, now[1:], widths[1:], 0.6, widths[0])
    paper.y_mm += height
    paper.line_at(MARGIN_MM, paper.y_mm, MARGIN_MM + sum(widths), paper.y_mm, FAINT, 0.15)


def _cells(
    paper: Paper, lines: Sequence[Row], widths: Sequence[float], above: float, from_mm: float = 0.0
) -> None:
    x = MARGIN_MM + from_mm
    for cell, width in zip(lines, widths, strict=True):
        for index, line in enumerate(cell):
            if line:
                paper.text(x + PAD_MM, paper.y_mm + above + STEP_MM * (index + 0.76), line)
        x += width
