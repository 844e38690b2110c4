"""The corners of what the contract allows: an answer comes, whole and finite."""

import json
import random
from typing import Any

import pytest

from slabtide.engine import forecast
from slabtide.engine.contract import default_at, read_pour, write_timeline

SLAB = {
    "thickness_m": (0.05, 0.6),
    "insulation_r_m2k_w": (0, 10),
    "ground_temp_c": (-10, 40),
    "solar_absorptivity": (0.1, 1),
    "uncut_length_m": (0.5, 100),
    "shade": (0, 1),
    "base_friction": (0.1, 5),
    "neighbours": (0, 1),
}
MIX = {
    "cement_kg_m3": (150, 600),
    "w_cm": (0.25, 0.8),
    "design_strength_mpa": (10, 80),
    "set_factor": (0.4, 3),
    "set_factor_sd": (0, 0.6),
    "activation_energy_j_mol": (20_000, 70_000),
    "tau_h": (4, 60),
    "beta": (0.3, 1.5),
    "hydration_heat_j_g": (150, 600),
    "fly_ash_fraction": (0, 0.3),
    "slag_fraction": (0, 0.3),
    "silica_fume_fraction": (0, 0.15),
    "strength_slowness": (0.5, 3),
    "bleed_share": (0.05, 4),
}
HOUR = {
    "air_temp_c": (-40, 55),
    "rh": (0, 1),
    "wind_kmh": (0, 200),
    "wind_height_m": (0.3, 100),
    "cloud": (0, 1),
    "solar_w_m2": (0, 1400),
    "rain_mm": (0, 300),
}
COVER = {"r_m2k_w": (0, 5)}
KINDS = ["footprint", "thumb", "mat_clean", "mat_sticks", "mat_refused"]


def corner(sample: dict[str, Any], seed: int) -> dict[str, Any]:
    """The sample with every number drawn anew, half of them at an end of what is allowed."""
    draw = random.Random(seed)

    def fill(target: dict[str, Any], ranges: dict[str, tuple[float, float]]) -> None:
        for key, (low, high) in ranges.items():
            target[key] = draw.choice([low, high, draw.uniform(low, high), draw.uniform(low, high)])

    fill(sample["slab"], SLAB)
    fill(sample["mix"], MIX)
    sample["slab"]["reentrant_corners"] = draw.choice([0, 1, 50])
    sample["mix"]["cement_type"] = draw.choice(["I/II", "III", "V", "IL"])
    sample["mix"]["admixtures"] = [{"type": draw.choice("ABCDEFGS"), "dose": draw.choice([0, 1, 2])}]
    first, last = sample["weather"]["hourly"][0]["at"], sample["weather"]["hourly"][-1]["at"]
    sample["covers"] = [{"from": first, "to": last, "kind": draw.choice(["blanket", "wet", "sheet"])}]
    fill(sample["covers"][0], COVER)
    if draw.random() < 0.5:
        sample["covers"] = []
    for load in sample["loads"]:
        fill(load, {"concrete_temp_c": (2, 45)})
    sample["checks"][0]["kind"] = draw.choice(KINDS)
    sample["checks"][0]["depth_mm"] = draw.choice([0, 3, 6, 100])
    steady = draw.random() < 0.5
    for hour in sample["weather"]["hourly"]:
        fill(hour, HOUR)
        if steady:
            hour["air_temp_c"] = sample["weather"]["hourly"][0]["air_temp_c"]
    del sample["weather"]["hourly"][draw.choice([10, 12, 40, 145]) :]
    return sample


@pytest.mark.parametrize("seed", range(16))
def test_an_answer_comes_whole_and_finite(sample: dict[str, Any], seed: int) -> None:
    pour = read_pour(corner(sample, seed))
    answer = write_timeline(forecast(pour, default_at(pour)))
    text = json.dumps(answer, allow_nan=False)
    assert '"pace"' in text
    loads: Any = answer["loads"]
    for load in loads:
        assert all(-80 < point["surface_temp_c"] < 140 for point in load["curve"])
        closed = [name for name, window in load["windows"].items() if window is None]
        notices: Any = answer["warnings"]
        told = [
            notice
            for notice in notices
            if notice["code"] == "no_safe_window" and notice["load"] == load["id"]
        ]
        assert bool(closed) == bool(told)
