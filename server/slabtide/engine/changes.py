"""What could still be changed about a pour, and the pour with it changed."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Literal

from slabtide.engine.cooling import cooled_c
from slabtide.engine.pour import Admixture, Load, Pour


@dataclass(frozen=True, slots=True)
class StartShift:
    """Every load not batched yet comes so many minutes later, or sooner where below zero. One that is on the
    road can only wait."""

    minutes: float


@dataclass(frozen=True, slots=True)
class Hands:
    """So many people texture."""

    people: int


@dataclass(frozen=True, slots=True)
class MatCount:
    """So many mats."""

    mats: int


@dataclass(frozen=True, slots=True)
class Retarder:
    """A retarder (ASTM C494 type B) or a water-reducing one (D) in one load, as a share of the usual dose."""

    load: str
    type: Literal["B", "D"]
    dose: float


@dataclass(frozen=True, slots=True)
class LoadArea:
    """One load fills another area [m2]: fewer yards, or more."""

    load: str
    area_m2: float


@dataclass(frozen=True, slots=True)
class CoolerConcrete:
    """Ice [kg/m3] in place of water, or colder water [°C, None = from the main], in one load (None = all)."""

    load: str | None
    ice_kg_m3: float
    water_temp_c: float | None


PourChange = StartShift | Hands | MatCount | Retarder | LoadArea | CoolerConcrete


def changed(pour: Pour, at: datetime, changes: Sequence[PourChange]) -> Pour:
    """The pour with every change made, in order. Loads placed or batched by `at` keep what can't change.

    Sound changes only: `read_changes` says what is wrong with others.
    """
    for change in changes:
        pour = _with(pour, at, change)
    return pour


def _with(pour: Pour, at: datetime, change: PourChange) -> Pour:
    match change:
        case Hands(people):
            return replace(pour, texturing=pour.texturing and replace(pour.texturing, people=people))
        case MatCount(mats):
            return replace(pour, texturing=pour.texturing and replace(pour.texturing, mats=mats))
        case _:
            loads = tuple(_load_with(pour, load, at, change) for load in pour.loads)
            area = (
                pour.slab.area_m2 + sum(load.area_m2 for load in loads) - sum(o.area_m2 for o in pour.loads)
            )
            return replace(pour, loads=loads, slab=replace(pour.slab, area_m2=area))


def _load_with(pour: Pour, load: Load, at: datetime, change: PourChange) -> Load:
    match change:
        case StartShift(minutes):
            return _shifted(load, at, minutes)
        case Retarder(id, type, dose) if id == load.id and load.batched_at > at:
            return replace(load, admixtures=(*load.admixtures, Admixture(type, dose)))
        case LoadArea(id, area_m2) if id == load.id and load.placed_from > at:
            return replace(load, area_m2=area_m2)
        case CoolerConcrete(id, ice, water_c) if id in (None, load.id) and load.batched_at > at:
            cooler_c = cooled_c(load.concrete_temp_c, pour.mix, pour.slab, ice, water_c)
            return replace(load, concrete_temp_c=max(2.0, cooler_c))
        case _:
            return load


def _shifted(load: Load, at: datetime, minutes: float) -> Load:
    step = timedelta(minutes=minutes)
    if load.batched_at > at:
        return replace(
            load,
            batched_at=load.batched_at + step,
            placed_from=load.placed_from + step,
            placed_to=load.placed_to + step,
        )
    if load.placed_from > at and minutes > 0.0:
        return replace(load, placed_from=load.placed_from + step, placed_to=load.placed_to + step)
    return load
