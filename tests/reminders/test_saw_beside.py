"""Reminders go by the same opening and closing of the saw as every screen of the phone."""

import json
from datetime import datetime
from pathlib import Path
from typing import Any

import pytest
from tests.reminders.conftest import facts

from slabtide.reminders.contract import When
from slabtide.reminders.windows import saw_window, windows_ahead

VECTORS = Path(__file__).parents[1] / "vectors"
CASES = json.loads((VECTORS / "saw_beside.json").read_text())["cases"]
SLABS = json.loads((VECTORS / "saw_window.json").read_text())["cases"]


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


@pytest.mark.parametrize("slab", SLABS, ids=lambda slab: slab["name"])
def test_the_whole_slab_is_sawn_as_the_vector_says(slab: dict[str, Any]) -> None:
    placed = tuple(datetime.fromisoformat(at) for at in slab["placed_to"])
    timeline = None if slab["loads"] is None else {"loads": slab["loads"], "slots": {}}
    known = facts(placed_to=placed, early_entry_saw=slab.get("saw_kind") == "early-entry")
    found = [one for one in windows_ahead(known, timeline) if one.what == "saw"]
    wanted = slab["window"]
    assert [(one.opens, one.closes) for one in found] == (
        [(When.from_json(wanted["opens"]), wanted["closes"] and When.from_json(wanted["closes"]))]
        if wanted
        else []
    )
