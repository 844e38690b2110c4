"""Reminders go by the same opening and closing of the saw as the phone shows beside the handbooks."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest

from slabtide.reminders.windows import saw_window

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "saw_beside.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_the_saw_opens_and_closes_as_the_vector_says(case: dict[str, Any]) -> None:
    window = saw_window([case["load"]])
    if case["opens"] is None:
        assert window is None
        return
    assert window is not None
    assert window.opens.likely == datetime.fromisoformat(case["opens"]["at"])
    closes = window.closes.likely if window.closes else None
    assert closes == (datetime.fromisoformat(case["closes"]["at"]) if case["closes"] else None)
