"""The view of a job is what the vectors say, and the same as the phone's."""

import json
from pathlib import Path
from typing import Any

import pytest

from slabtide.log.fold import JobFold, fold
from slabtide.log.view import view_job, view_json

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "view.json").read_text())


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_view_is_what_the_vector_says(case: dict[str, Any], fill: Any) -> None:
    folding = JobFold("J")
    for event in fill(case["events"]):
        folding.add(event)
    for state in (folding.state, fold(fill(case["events"]), "J")):
        assert json.loads(json.dumps(view_json(view_job(state)))) == case["expect"]


@pytest.mark.parametrize("case", VECTORS["phases"], ids=lambda case: case["name"])
def test_phase_is_the_furthest_of_what_was_said_and_what_the_facts_imply(
    case: dict[str, Any], fill: Any
) -> None:
    assert view_job(fold(fill(case["events"]), "J")).phase == case["expect"]


def test_area_and_perimeter_of_an_outline_are_measured_not_taken_on_trust(fill: Any) -> None:
    body = {"corners": [[10, 10], [13, 10], [10, 14]], "thickness_m": 0.1, "abutting": []}
    slab = view_job(fold(fill([{"id": "a", "clock": "1-A", "kind": "slab.outlined", "body": body}]))).slab
    assert slab is not None
    assert (slab.area_m2, slab.perimeter_m) == (6.0, 12.0)
    assert slab.volume_m3 == pytest.approx(0.6)
