"""The six checklists count what the vectors say, and only what is there."""

import json
from pathlib import Path
from typing import Any

import pytest

from slabtide.log.checklist_items import CHECKLISTS
from slabtide.log.checklists import COUNTS, progress
from slabtide.log.fold import fold
from slabtide.log.kinds import KINDS
from slabtide.log.kinds.checklist import LISTS
from slabtide.log.view import view_job

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "checklists.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_lists_and_rows_count_what_the_vector_says(case: dict[str, Any], fill: Any) -> None:
    found = progress(view_job(fold(fill(case["events"]), "J")))
    assert {name: [found[name].done, found[name].total] for name in case["expect"]} == case["expect"]
    for place, expected in case.get("rows", {}).items():
        name, slug = place.split("/")
        (item,) = (item for item in found[name].items if item.item == slug)
        assert [(row.subject, row.done) for row in item.rows] == [(row[0], row[1]) for row in expected]
        for row, (_, _, have, need) in zip(item.rows, expected, strict=True):
            assert row.have == (None if have is None else pytest.approx(have, abs=1e-9)), place
            assert row.need == need


def test_a_ticked_row_tells_who_and_when_even_after_unticking(fill: Any) -> None:
    body = {"list": "forms", "item": "stakes", "subject": "", "done": False}
    view = view_job(fold(fill([{"id": "a", "clock": "1-A", "kind": "item.ticked", "body": body}])))
    (row,) = next(item for item in progress(view)["forms"].items if item.item == "stakes").rows
    assert (row.done, row.event, row.by, row.at) == (False, "a", "person-A", "2026-07-14T12:00:00.000Z")


def test_every_list_has_items_that_can_be_ticked_or_counted() -> None:
    assert tuple(CHECKLISTS) == LISTS
    for name, items in CHECKLISTS.items():
        slugs = [item.slug for item in items]
        assert len(slugs) == len(set(slugs)), name
        for item in items:
            body = {"list": name, "item": item.slug, "subject": "", "done": True}
            assert not KINDS["item.ticked"].schema().validate(body)
            assert item.counted == "tick" or item.counted in COUNTS
