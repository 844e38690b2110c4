"""What spoils a fresh slab: frost, rain, air that dries it faster than it can be worked.

It takes the windows of concrete that is still to come, which can be called off. Concrete that lies there
keeps its times: what threatens it is a warning then (`notices_placed`).
"""

import math
from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC
from typing import Literal

from slabtide.engine.covers import cover_over, spans_of
from slabtide.engine.history import History
from slabtide.engine.pour import Load, Pour
from slabtide.engine.strength import age_at_strength_h

FROST_PROOF_MPA = 3.45  # ACI 306: no freezing before 500 psi
_FREEZES_C = -1.0
RAIN_SPOILS_MM = 1.0  # in an hour (EST): less can be floated back or blotted off
DRIES_KG_M2_H = 2.0  # twice the level at which ACI 305.1 asks for protection (EST)
_DRIES_FOR_S = 1800

Why = Literal["frost", "rain", "drying"]


@dataclass(frozen=True, slots=True)
class Spoil:
    """What ends the work on a fresh surface first, and when [s]; infinity if nothing does."""

    at_s: float
    why: Why


def first_spoil(history: History, pour: Pour, load: Load, set_factor: float) -> Spoil:
    """The first of frost, rain and drying in one branch of the weather."""
    told = [
        Spoil(freezes_at(history, pour, set_factor), "frost"),
        Spoil(rained_on_at(pour, load), "rain"),
        Spoil(dries_at(history), "drying"),
    ]
    return min(told, key=lambda spoil: spoil.at_s)


def freezes_at(history: History, pour: Pour, set_factor: float) -> float:
    """Time [s] at which the surface freezes before the concrete can bear it; infinity if it doesn't.

    Source: ACI 306, 500 psi.
    """
    mix = pour.mix
    safe_h = age_at_strength_h(FROST_PROOF_MPA, mix.design_strength_mpa) * set_factor * mix.strength_slowness
    for time, surface, age in zip(history.times_s, history.surface_c, history.mean_age_h, strict=True):
        if age >= safe_h:
            return math.inf
        if surface < _FREEZES_C:
            return float(time)
    return math.inf


def rained_on_at(pour: Pour, load: Load) -> float:
    """Time [s from the first weather hour] at which enough rain falls on a load, placed and not covered, to
    spoil it; infinity if none does. Whether the load is still fresh then is for the caller to say."""
    return next((from_s for from_s, mm in open_rain(pour, load) if mm >= RAIN_SPOILS_MM), math.inf)


def open_rain(pour: Pour, load: Load) -> Iterator[tuple[float, float]]:
    """The hours in which it rains on a load from its placing on, with no cover over it the whole hour: when
    it begins to [s from the first weather hour], and the rain of that hour [mm]."""
    hourly = pour.weather.hourly
    covers = spans_of(pour.covers, load.id, hourly[0].at)
    placed_s = (load.placed_from.astimezone(UTC) - hourly[0].at.astimezone(UTC)).total_seconds()
    for index, hour in enumerate(hourly):
        starts_s = 3600 * index
        if hour.rain_mm <= 0.0 or starts_s + 3600 <= placed_s:
            continue
        over = cover_over(covers, max(starts_s, placed_s), starts_s + 3600)
        if over is None or over[1] < 1.0:
            yield max(float(starts_s), placed_s), hour.rain_mm


def dries_at(history: History) -> float:
    """Time [s] from which a wet surface would lose 2 kg/m2 an hour for half an hour on end; or infinity."""
    since: float | None = None
    for time, demand in zip(history.times_s, history.demand, strict=True):
        if demand < DRIES_KG_M2_H:
            since = None
        elif since is None:
            since = float(time)
        elif time - since >= _DRIES_FOR_S:
            return since
    return math.inf
