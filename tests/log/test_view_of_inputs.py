"""What the view makes of merges, covers, cuts planned and the rest is what the vectors say."""

import json
from pathlib import Path
from typing import Any

import pytest

from slabtide.log.fold import fold
from slabtide.log.view import view_job, view_json

VECTORS = json.loads((Path(__file__).parents[1] / "vectors" / "inputs.json").read_text())


def picked(found: Any, wanted: Any) -> Any:
    """Of what was found, the fields that are wanted; lists whole."""
    if isinstance(wanted, dict) and isinstance(found, dict):
        return {key: picked(found[key], value) for key, value in wanted.items()}
    if isinstance(wanted, list) and isinstance(found, list) and len(wanted) == len(found):
        return [picked(*pair) for pair in zip(found, wanted, strict=True)]
    return found


@pytest.mark.parametrize("case", VECTORS["cases"], ids=lambda case: case["name"])
def test_view_holds_what_the_vector_says(case: dict[str, Any], fill: Any) -> None:
    view = json.loads(json.dumps(view_json(view_job(fold(fill(case["events"]), "J")))))
    assert picked(view, case["expect"]) == case["expect"]


def test_a_vector_that_names_what_is_not_so_would_be_seen() -> None:
    assert picked({"a": [{"b": 1, "c": 2}]}, {"a": [{"b": 3}]}) == {"a": [{"b": 1}]}
    assert picked({"a": [1, 2]}, {"a": [1]}) != {"a": [1]}
