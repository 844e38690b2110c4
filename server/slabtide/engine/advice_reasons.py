"""What is held against an hour, and how gravely: codes and numbers; words stand in `advice_wording`."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal, get_args
from zoneinfo import ZoneInfo

from slabtide.engine.advice_limits import AdviceLimits
from slabtide.engine.advice_trial import Trial
from slabtide.engine.evaporation import LOW_BLEED_KG_M2_H
from slabtide.engine.heat_index import CAUTION_C
from slabtide.engine.saw_practice import SURFACE_DROP_K

Weight = Literal["stop", "tight", "note"]
Verdict = Literal["go", "tight", "no_go"]
VERDICTS: tuple[Verdict, ...] = get_args(Verdict)
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
    "saw_missed",
    "night_drop",
    "saw_at_night",
    "rain_to_set",
    "cold_air",
    "cold_concrete",
    "saw_in_dark",
]
_WEIGHTS: tuple[Weight, ...] = get_args(Weight)


@dataclass(frozen=True, slots=True)
class Reason:
    """One thing held against an hour: its code, whether it stops the pour, makes it tight or is only to be
    known, its numbers by name and unit, and how heavy it weighs beside others (no unit)."""

    code: ReasonCode
    weight: Weight
    numbers: Mapping[str, float]
    burden: float


def reasons_against(trial: Trial, limits: AdviceLimits) -> tuple[Reason, ...]:
    """Everything held against a trial: the gravest first; of what stops or makes tight, causes before what
    follows from them; else the heaviest."""
    found = [*_crew(trial, limits), *_weather(trial, limits), *_concrete(trial, limits), *_saw(trial, limits)]
    return tuple(sorted(found, key=_gravest_first))


def verdict_of(reasons: tuple[Reason, ...]) -> Verdict:
    """Go where nothing is worse than to be known; tight; no-go where anything stops it."""
    weights = {reason.weight for reason in reasons}
    return "no_go" if "stop" in weights else "tight" if "tight" in weights else "go"


def _gravest_first(reason: Reason) -> tuple[int, int, float]:
    cause = get_args(ReasonCode).index(reason.code) if reason.weight == "stop" else 0
    return _WEIGHTS.index(reason.weight), cause, -round(reason.burden, 4)


def _weight(value: float, tight: float, stop: float) -> Weight:
    return "stop" if value >= stop else "tight" if value >= tight else "note"


def _crew(trial: Trial, limits: AdviceLimits) -> Iterator[Reason]:
    miss = 1.0 - trial.chance_to_make
    if miss >= limits.miss_tight - 1e-9:
        code: ReasonCode = "crew_misses" if trial.has_crew else "no_window"
        weight = _weight(miss, limits.miss_tight - 1e-9, limits.miss_stop)
        yield Reason(code, weight, {"chance_to_miss": miss}, 10.0 * miss)
    felt = trial.heat_index_c
    if felt >= limits.heat_note_c:
        weight = _weight(felt, limits.heat_tight_c, limits.heat_stop_c)
        yield Reason("heat_index", weight, {"heat_index_c": felt}, (felt - CAUTION_C) / 3.0)
    dark = trial.dark_minutes
    if dark >= limits.dark_note_min:
        weight = _weight(dark, limits.dark_tight_min, limits.dark_stop_min)
        yield Reason("dark", weight, {"dark_minutes": dark}, dark / 30.0)


def _weather(trial: Trial, limits: AdviceLimits) -> Iterator[Reason]:
    if trial.rain_mm_h >= limits.wet_mm_h:
        numbers = {"rain_mm_h": trial.rain_mm_h, "rain_mm": trial.rain_mm}
        weight = _weight(trial.rain_mm_h, limits.wet_mm_h, limits.rain_stop_mm_h)
        yield Reason("rain", weight, numbers, 2.0 + 2.0 * trial.rain_mm)
    elif trial.rain_to_set_mm >= limits.wet_mm_h:
        mm = trial.rain_to_set_mm
        weight = "tight" if mm >= limits.rain_stop_mm_h else "note"
        yield Reason("rain_to_set", weight, {"rain_mm": mm}, 1.0 + min(4.0, mm))
    loss, tight, stop = (
        trial.evaporation_kg_m2_h,
        limits.evaporation_tight_kg_m2_h,
        limits.evaporation_stop_kg_m2_h,
    )
    if loss >= LOW_BLEED_KG_M2_H:
        burden = 4.0 * (loss - LOW_BLEED_KG_M2_H)
        yield Reason("evaporation", _weight(loss, tight, stop), {"evaporation_kg_m2_h": loss}, burden)
    cold = trial.coldest_air_c
    if cold <= limits.freezing_air_c or trial.night.freezes_at is not None:
        weight = "tight" if trial.has_blanket and trial.night.freezes_at is None else "stop"
        yield Reason("freezing", weight, {"coldest_air_c": cold}, max(4.0, 4.0 - cold))
    elif cold < limits.cold_air_c:
        burden = 1.0 + (limits.cold_air_c - cold) / 2.0
        yield Reason("cold_air", "note", {"coldest_air_c": cold}, burden)


def _concrete(trial: Trial, limits: AdviceLimits) -> Iterator[Reason]:
    if trial.ground_temp_c <= 0.0:
        yield Reason("frozen_ground", "stop", {"ground_temp_c": trial.ground_temp_c}, 10.0)
    warmest, coolest = trial.warmest_load_c, trial.coolest_load_c
    if warmest >= limits.hot_concrete_c:
        burden = 3.0 + warmest - limits.hot_concrete_c
        yield Reason("hot_concrete", "stop", {"concrete_temp_c": warmest}, burden)
    if coolest < limits.cold_concrete_c:
        burden = (limits.cold_concrete_c - coolest) / 2.0
        yield Reason("cold_concrete", "note", {"concrete_temp_c": coolest}, burden)


def _saw(trial: Trial, limits: AdviceLimits) -> Iterator[Reason]:
    """The cut: too late before it may begin, at hours nobody works, or by lamps; and the night's cooling."""
    night = trial.night
    opens, closes = night.saw_opens, night.saw_closes
    if opens is None or closes is None:
        return
    zone = ZoneInfo(trial.time_zone)

    def hour(at: datetime) -> float:
        local = at.astimezone(zone)
        return local.hour + local.minute / 60.0

    numbers = {"saw_opens_h": hour(opens), "saw_closes_h": hour(closes)}
    needed = max(limits.cut_least_min, night.cut_minutes)
    if (closes - opens).total_seconds() < 60.0 * night.cut_minutes or closes <= opens:
        yield Reason("saw_missed", "tight", numbers, 4.0)
    elif night.workable_minutes < min(needed, (closes - opens).total_seconds() / 60.0 - 15.0):
        yield Reason("saw_at_night", "tight", numbers, 2.0)
    elif night.light_minutes < needed:
        yield Reason("saw_in_dark", "note", numbers, 0.5)
    if night.drop_at is not None and night.drop_at < closes:
        numbers = {"drop_h": hour(night.drop_at), "drop_k": SURFACE_DROP_K}
        early = night.drop_at < opens
        yield Reason("night_drop", "tight" if early else "note", numbers, 3.0 if early else 0.5)
