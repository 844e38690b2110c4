"""Pours to put before the engine."""

import json
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any

import pytest

from slabtide.engine.contract import read_pour
from slabtide.engine.pour import Load, Mix, Pour, Saw, Slab, SurfaceCheck, Weather, WeatherHour

SAMPLE = Path(__file__).parent / "samples" / "two_loads.json"
MIDNIGHT = datetime(2026, 6, 4, 5, tzinfo=UTC)

MakePour = Callable[..., Pour]


@pytest.fixture
def sample() -> dict[str, Any]:
    """The sample input as parsed JSON, fresh for each test."""
    data: dict[str, Any] = json.loads(SAMPLE.read_text(encoding="utf-8"))
    return data


@pytest.fixture
def sample_pour(sample: dict[str, Any]) -> Pour:
    return read_pour(sample)


def make(
    *,
    air_c: float = 21.0,
    swing_c: float = 4.0,
    rh: float = 0.6,
    wind_kmh: float = 10.0,
    sun_w_m2: float = 600.0,
    concrete_c: float = 22.0,
    hours: int = 140,
    loads: int = 1,
    mix: Mix | None = None,
    thickness_m: float = 0.12,
    insulation: float = 0.9,
    ground_c: float = 15.0,
    checks: tuple[SurfaceCheck, ...] = (),
    saw: Saw | None = None,
    shift: timedelta = timedelta(0),
    rain: tuple[int, ...] = (),
) -> Pour:
    """A pour at eight in the morning under weather that repeats each day."""
    start = MIDNIGHT + shift

    def hour(i: int) -> WeatherHour:
        day = min(abs((i % 24) - 14), 24 - abs((i % 24) - 14))
        sun = max(0.0, 1.0 - abs((i % 24) - 13) / 7.0) * sun_w_m2
        wet = 3.0 if i in rain else 0.0
        return WeatherHour(
            start + timedelta(hours=i), air_c + swing_c * (1 - day / 6), rh, wind_kmh, 10.0, 0.3, sun, wet
        )

    def load(i: int) -> Load:
        begins = start + timedelta(hours=8, minutes=35 * i)
        ends = begins + timedelta(minutes=25)
        return Load(str(i + 1), begins - timedelta(minutes=30), begins, ends, concrete_c, 26.0)

    return Pour(
        time_zone="America/Chicago",
        slab=Slab(26.0 * loads, thickness_m, insulation, ground_c, 0.7, 8.0),
        loads=tuple(load(i) for i in range(loads)),
        weather=Weather(tuple(hour(i) for i in range(hours))),
        mix=mix or Mix(),
        checks=checks,
        saw=saw,
    )


@pytest.fixture(scope="session")
def make_pour() -> MakePour:
    return make
