"""A spreadsheet opens an export and runs nothing; what is read back is what was written."""

import csv
import io

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabtide.office.exports.cells import STARTS, csv_lines, plain, safe, written

TEXT = st.text(st.characters(exclude_categories=["Cs"], exclude_characters="\x00"), max_size=40)
STARTING = st.sampled_from([*sorted(STARTS), "'", "''=", " =", "\u00a0+"])


@settings(deadline=None)
@given(st.one_of(TEXT, st.builds(str.__add__, STARTING, TEXT)))
def test_a_cell_read_back_is_the_text_that_was_written(text: str) -> None:
    assert plain(safe(text)) == text


@settings(deadline=None)
@given(st.one_of(TEXT, st.builds(str.__add__, STARTING, TEXT)))
def test_no_cell_begins_as_a_formula_does(text: str) -> None:
    cell = safe(text)
    assert not cell or (cell[0] not in STARTS and cell.lstrip()[:1] not in STARTS)


@pytest.mark.parametrize("text", ["=1+1", "+1", "-1", "@SUM(A1)", "\t=1", "  =HYPERLINK(1)", "＝1", "|x"])
def test_what_a_spreadsheet_would_run_gets_an_apostrophe(text: str) -> None:
    assert safe(text) == "'" + text


def test_numbers_stay_numbers_below_zero_too() -> None:
    assert [written(value) for value in (-79.95, 0.1, 12, True, None)] == ["-79.95", "0.1", "12", "yes", ""]


@settings(deadline=None)
@given(st.lists(st.lists(TEXT, min_size=2, max_size=4), max_size=5))
def test_rows_come_back_from_csv_whole(rows: list[list[str]]) -> None:
    read = [[plain(cell) for cell in row] for row in csv.reader(io.StringIO(csv_lines(rows), newline=""))]
    assert read == rows
