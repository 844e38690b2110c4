"""What is held against an hour: codes and numbers; words stand in `advice_wording`."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from slabtide.engine.advice_trial import Trial
from slabtide.engine.evaporation import LOW_BLEED_KG_M2_H, PRECAUTION_KG_M2_H
from slabtide.engine.heat_index import CAUTION_C, EXTREME_CAUTION_C, EXTREME_DANGER_C
from slabtide.engine.notices import COLD_AIR_C, COLD_CONCRETE_C, HOT_CONCRETE_C
from slabtide.engine.spoiling import DRIES_KG_M2_H, RAIN_SPOILS_MM

ReasonCode = Literal[
    "frozen_ground",
    "rain",
    "freezing",
    "crew_misses",
    "no_window",
    "hot_concrete",
    "evaporation",
    "heat_index",
    "dark",
    "cold_air",
    "cold_concrete",
]

_FREEZES_AIR_C = -2.0  # by air alone: a trial does not follow the slab through the night (EST)
_MISS_STOPS, _MISS_WEIGHS = 0.5, 0.1  # (EST)
_WET_MM = 0.2
_DARK_WEIGHS_MIN, _DARK_STOPS_MIN = 15, 120  # without lights (EST)


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing held against an hour: its code, whether it stops the pour, its numbers by name and unit, and
    how heavy it weighs beside others (no unit)."""

    code: ReasonCode
    stop: bool
    numbers: Mapping[str, float]
    burden: float


def reasons_against(trial: Trial) -> tuple[Reason, ...]:
    """Everything held against a trial: what stops first, causes before what follows from them; then the
    heaviest."""
    return tuple(sorted(_found(trial), key=_gravest_first))


def _gravest_first(reason: Reason) -> tuple[bool, int, float]:
    cause = get_args(ReasonCode).index(reason.code) if reason.stop else 0
    return not reason.stop, cause, -round(reason.burden, 4)


def _found(trial: Trial) -> Iterator[Reason]:
    yield from _crew(trial)
    yield from _weather(trial)
    yield from _concrete(trial)


def _crew(trial: Trial) -> Iterator[Reason]:
    miss = 1.0 - trial.chance_to_make
    if miss >= _MISS_WEIGHS:
        code: ReasonCode = "crew_misses" if trial.has_crew else "no_window"
        yield Reason(code, miss >= _MISS_STOPS, {"chance_to_miss": miss}, 10.0 * miss)
    felt = trial.heat_index_c
    if felt >= EXTREME_CAUTION_C:
        burden = (felt - CAUTION_C) / 3.0
        yield Reason("heat_index", felt >= EXTREME_DANGER_C, {"heat_index_c": felt}, burden)
    dark = trial.dark_minutes
    if dark >= _DARK_WEIGHS_MIN:
        yield Reason("dark", dark >= _DARK_STOPS_MIN, {"dark_minutes": dark}, dark / 30.0)


def _weather(trial: Trial) -> Iterator[Reason]:
    if trial.rain_mm_h >= _WET_MM:
        numbers = {"rain_mm_h": trial.rain_mm_h, "rain_mm": trial.rain_mm}
        stop = trial.rain_mm_h >= RAIN_SPOILS_MM
        yield Reason("rain", stop, numbers, 2.0 + 2.0 * trial.rain_mm)
    loss = trial.evaporation_kg_m2_h
    if loss >= PRECAUTION_KG_M2_H:
        burden = 4.0 * (loss - LOW_BLEED_KG_M2_H)
        yield Reason("evaporation", loss >= DRIES_KG_M2_H, {"evaporation_kg_m2_h": loss}, burden)
    cold = trial.coldest_air_c
    if cold <= _FREEZES_AIR_C:
        yield Reason("freezing", not trial.has_blanket, {"coldest_air_c": cold}, 4.0 - cold)
    elif cold < COLD_AIR_C:
        yield Reason("cold_air", False, {"coldest_air_c": cold}, 1.0 + (COLD_AIR_C - cold) / 2.0)


def _concrete(trial: Trial) -> Iterator[Reason]:
    if trial.ground_temp_c <= 0.0:
        yield Reason("frozen_ground", True, {"ground_temp_c": trial.ground_temp_c}, 10.0)
    warmest, coolest = trial.warmest_load_c, trial.coolest_load_c
    if warmest >= HOT_CONCRETE_C:
        yield Reason("hot_concrete", True, {"concrete_temp_c": warmest}, 3.0 + warmest - HOT_CONCRETE_C)
    if coolest < COLD_CONCRETE_C:
        yield Reason("cold_concrete", False, {"concrete_temp_c": coolest}, (COLD_CONCRETE_C - coolest) / 2.0)
