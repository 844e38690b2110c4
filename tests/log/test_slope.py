"""The plane through the level shots is what was worked by hand."""

import json
from pathlib import Path
from typing import Any

import pytest

from slabtide.log.slope import below_plane_m, fall_away_percent, fit_plane

CASES = json.loads((Path(__file__).parents[1] / "vectors" / "slope.json").read_text())["cases"]


@pytest.mark.parametrize("case", CASES, ids=lambda case: case["name"])
def test_plane_is_what_the_vector_says(case: dict[str, Any]) -> None:
    shots = [tuple(shot) for shot in case["shots"]]
    plane = fit_plane(shots)
    if case["expect"] is None or plane is None:
        assert plane is case["expect"]
        return
    assert plane.fall_percent == pytest.approx(case["expect"]["fall_percent"], abs=1e-9)
    assert plane.direction_deg == pytest.approx(case["expect"]["direction_deg"], abs=1e-6)
    below = [below_plane_m(plane, shot) for shot in shots]
    assert below == pytest.approx(case["expect"]["below_m"], abs=1e-9)
    for edge, fall in case.get("fall_away_percent", {}).items():
        assert fall_away_percent(plane, case["corners"], int(edge)) == pytest.approx(fall, abs=1e-9)
