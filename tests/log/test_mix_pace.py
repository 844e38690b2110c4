"""The engine's pace of a mix is what the vectors say; the phone's test reads the same ones."""

import json
from pathlib import Path
from typing import Any

import pytest

from slabtide.engine.pour import Admixture, Mix
from slabtide.engine.recipe import mix_pace, mix_words

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "mix_pace.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: json.dumps(case["mix"]))
def test_pace_is_what_the_vector_says(case: dict[str, Any]) -> None:
    doses = tuple(Admixture(**row) for row in case["mix"].get("admixtures", ()))
    mix = Mix(**{**case["mix"], "admixtures": doses})
    assert mix_pace(mix) == (case["pace"], case["percent"])
    assert case["pace"] in mix_words(mix).lower()


def test_the_vectors_hold_every_pace() -> None:
    assert {case["pace"] for case in CASES} == {"slow", "usual", "fast"}
