"""Pours drawn by number: ones a crew could meet, and ones at the ends of what the contract allows."""

import json
import random
from copy import deepcopy
from datetime import datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

from tests.engine.test_forecast_corners import corner as ends_of_the_contract

SAMPLE = json.loads((Path(__file__).parents[1] / "engine" / "samples" / "two_loads.json").read_text())
ZONES = ("America/Chicago", "America/New_York", "America/Phoenix", "Australia/Adelaide", "Europe/Madrid")
CEMENTS = ("I/II", "III", "V", "IL")
AGGREGATES = ("soft-rounded", "rounded", "crushed-soft", "crushed-hard")
KINDS = ("footprint", "thumb", "mat_clean", "mat_sticks", "mat_refused")
# Among them the days on which clocks change.
DAYS = ((2026, 3, 7), (2026, 6, 4), (2026, 7, 14), (2026, 10, 31), (2026, 1, 20))
Question = dict[str, Any]


def likely(seed: int) -> Question:
    """A pour as any of a year's: one to four loads, checks on some, all numbers drawn with many digits."""
    draw = random.Random(f"likely {seed}")
    zone = ZoneInfo(draw.choice(ZONES))
    midnight = datetime(*draw.choice(DAYS), tzinfo=zone)
    begins = midnight + timedelta(hours=draw.uniform(5, 14))
    names = [str(number + 1) for number in range(draw.randint(1, 4))]
    loads = [_load(draw, name, begins + timedelta(minutes=45 * n)) for n, name in enumerate(names)]
    placed = datetime.fromisoformat(loads[-1]["placed_to"])
    pour: Question = {
        "version": 1,
        "time_zone": zone.key,
        "slab": _slab(draw, sum(load["area_m2"] for load in loads)),
        "mix": _mix(draw) | recipe(draw),
        "loads": loads,
        "checks": [_check(draw, draw.choice(names), placed) for _ in range(draw.randint(0, 5))],
        "texturing": {
            "people": draw.randint(1, 8),
            "mats": draw.randint(4, 14),
            "mat_area_m2": draw.uniform(0.3, 1.5),
            "lay_minutes": draw.uniform(1, 4),
        },
        "saw": {
            "kind": draw.choice(("conventional", "early-entry")),
            "length_m": draw.uniform(5, 60),
            "rate_m_per_min": draw.uniform(0.5, 2),
        },
        "covers": [_cover(draw, names, placed) for _ in range(draw.randint(0, 3))],
        "weather": {"hourly": [_hour(draw, midnight, index) for index in range(150)]},
    }
    return {"pour": pour, "at": (placed + timedelta(hours=draw.uniform(-2, 30))).isoformat()}


def recipe(draw: random.Random) -> dict[str, Any]:
    """What is in a mix beside plain cement: some of it, none of it, or all at once."""
    told = {
        "cement_type": draw.choice(CEMENTS),
        "fly_ash_fraction": draw.uniform(0, 0.3),
        "fly_ash_class": draw.choice(("F", "C")),
        "slag_fraction": draw.uniform(0, 0.4),
        "silica_fume_fraction": draw.uniform(0, 0.08),
        "admixtures": admixtures(draw),
    }
    share = draw.choice((0.0, 0.5, 1.0))
    return {key: value for key, value in told.items() if draw.random() < share}


def admixtures(draw: random.Random) -> list[dict[str, Any]]:
    """Up to three admixtures, each of another sort."""
    return [
        {"type": kind, "dose": draw.uniform(0, 2)} for kind in draw.sample("ABCDEFGS", draw.randint(0, 3))
    ]


def _cover(draw: random.Random, loads: list[str], placed: datetime) -> dict[str, Any]:
    starts = placed + timedelta(hours=draw.uniform(1, 20))
    told = {"r_m2k_w": draw.uniform(0, 1.5), "load": draw.choice(loads)}
    return {
        "from": starts.isoformat(),
        "to": (starts + timedelta(hours=draw.uniform(0.2, 60))).isoformat(),
        "kind": draw.choice(("blanket", "wet", "sheet")),
        **{key: value for key, value in told.items() if draw.random() < 0.5},
    }


def corner(seed: int) -> Question:
    """The sample with half its numbers at an end of what is allowed and weather without sense."""
    pour = ends_of_the_contract(deepcopy(SAMPLE), seed)
    return {"pour": pour, "at": pour["checks"][0]["at"]}


def _slab(draw: random.Random, area_m2: float) -> dict[str, Any]:
    return {
        "area_m2": area_m2,
        "thickness_m": draw.uniform(0.09, 0.2),
        "insulation_r_m2k_w": draw.uniform(0, 2),
        "ground_temp_c": draw.uniform(2, 25),
        "solar_absorptivity": draw.uniform(0.4, 0.9),
        "uncut_length_m": draw.uniform(3, 15),
        "shade": draw.choice((0.0, draw.random())),
        "base_friction": draw.uniform(0.5, 2),
        "neighbours": draw.choice((0.0, draw.random())),
        "reentrant_corners": draw.randint(0, 2),
    }


def _mix(draw: random.Random) -> dict[str, Any]:
    return {
        "cement_kg_m3": draw.uniform(280, 420),
        "w_cm": draw.uniform(0.38, 0.55),
        "design_strength_mpa": draw.uniform(21, 35),
        "aggregate": draw.choice(AGGREGATES),
        "set_factor": draw.uniform(0.7, 1.5),
    }


def _check(draw: random.Random, load: str, placed: datetime) -> dict[str, Any]:
    kind = draw.choice(KINDS)
    at = placed + timedelta(hours=draw.uniform(0, 6))
    depth = {"depth_mm": draw.uniform(0, 20)} if kind == "footprint" else {}
    return {"load": load, "at": at.isoformat(), "kind": kind, **depth}


def _load(draw: random.Random, name: str, begins: datetime) -> dict[str, Any]:
    return {
        "id": name,
        "batched_at": (begins - timedelta(minutes=draw.randint(15, 70))).isoformat(),
        "placed_from": begins.isoformat(),
        "placed_to": (begins + timedelta(minutes=draw.randint(10, 40))).isoformat(),
        "concrete_temp_c": draw.uniform(10, 34),
        "area_m2": draw.uniform(12, 60),
        "admixtures": admixtures(draw) if draw.random() < 0.3 else [],
    }


def _hour(draw: random.Random, midnight: datetime, index: int) -> dict[str, Any]:
    at = midnight.astimezone(ZoneInfo("UTC")) + timedelta(hours=index)
    day = max(0.0, 1 - abs(at.astimezone(midnight.tzinfo).hour - 13) / 7)
    return {
        "at": at.isoformat(),
        "air_temp_c": 12 + 14 * day + draw.uniform(-2, 2),
        "rh": draw.uniform(0.25, 0.98),
        "wind_kmh": draw.uniform(0, 35),
        "wind_height_m": 10,
        "cloud": draw.random(),
        "solar_w_m2": 900 * day * draw.uniform(0.3, 1),
        "rain_mm": draw.choice((0, 0, 0, 0, 0, draw.uniform(0, 8))),
    }
