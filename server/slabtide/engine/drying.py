"""How wet the surface is: water from washing, rain and dew, and what the air takes away.

One store of water stands for the surface: what lies on it, and under that what its top has drunk. While water
lies on it the whole surface gives up water; then the share that the pores still hold. A wet surface is cooler
than a dry one, by what its water carries off.
"""

import math
from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from slabtide.engine.evaporation import evaporation_slope_kg_m2_h_kpa
from slabtide.engine.exchange import LATENT_J_KG
from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.sky import convection_w_m2_k

PORES_KG_M2 = 1.0  # what the top of a washed slab drinks (EST): dries in about a day of mild weather
FULL_KG_M2 = 1.3  # with the film that stays after a squeegee; more runs off (EST)
DRY_KG_M2 = 0.05  # dry to the hand and under a sheet (EST)
SUBSTEP_S = 600
_RADIATION_W_M2_K = 5.5  # of a surface near 20 °C
_SLAB_W_M2_K = 12.0  # what the slab under it gives in a few hours (EST)

Cause = Literal["placing", "wash", "rain", "dew", "sheet", "cover"]


@dataclass(frozen=True, slots=True)
class Air:
    """What one hour does to the surface: its temperature when dry [°C], vapour pressure of the air [kPa],
    wind at the slab [km/h], rain in the hour that begins [mm], and what covers it: nothing, a wet cover,
    another."""

    surface_c: float
    vapour_kpa: float
    wind_kmh: float
    rain_mm: float
    cover: Literal["wet", "dry"] | None = None


@dataclass(frozen=True, slots=True)
class Wetting:
    """Something that sets the store at a time [s]: a wash fills it, a sheet test proves it dry or damp."""

    at_s: float
    cause: Cause
    dry: bool = False


@dataclass(frozen=True, slots=True)
class Moisture:
    """The store [kg/m2] at each hour, what last wetted it, and from when it is dry [s] (infinity = not within
    reach) counted from each hour."""

    water_kg_m2: tuple[float, ...]
    cause: tuple[Cause, ...]
    dry_at_s: tuple[float, ...]


def loss_kg_m2_h(air: Air, wetness: float) -> float:
    """What a surface wet for a share `wetness` [0..1] gives up, per whole surface [kg/m2/h]; below zero where
    dew falls.

    Source: Menzel (1954) at the temperature of the wet surface, by the heat its water carries off.
    """
    slope = evaporation_slope_kg_m2_h_kpa(air.wind_kmh)
    pressure = saturation_vapour_pressure_kpa(air.surface_c)
    deficit = pressure - air.vapour_kpa
    if deficit <= 0.0:
        return slope * deficit
    held_w_m2_k = convection_w_m2_k(air.wind_kmh / 3.6) + _RADIATION_W_M2_K + _SLAB_W_M2_K
    carried = LATENT_J_KG / 3600.0 * slope * wetness / held_w_m2_k
    wet_c = air.surface_c
    for _ in range(2):  # Newton's steps down to where what the slab and the air give is what the water takes
        steepness = pressure * 4283.8 / (wet_c + 243.04) ** 2
        wet_c -= (wet_c - air.surface_c + carried * (pressure - air.vapour_kpa)) / (1.0 + carried * steepness)
        pressure = saturation_vapour_pressure_kpa(wet_c)
    return slope * max(0.0, pressure - air.vapour_kpa)


def water_after(water_kg_m2: float, air: Air, span_s: float, pace: float = 1.0) -> float:
    """The store after a span under one air. More water before is never less after.

    pace -- share of the evaporation told [1 = all]
    """
    if air.cover == "wet":
        return FULL_KG_M2
    if air.cover == "dry":
        return water_kg_m2
    span_h = span_s / 3600.0
    wetness = min(1.0, water_kg_m2 / PORES_KG_M2)
    loss = loss_kg_m2_h(air, wetness) * pace * span_h
    water = water_kg_m2 + air.rain_mm * span_h
    if loss <= 0.0:
        return min(FULL_KG_M2, water - loss)
    lying = max(0.0, water - PORES_KG_M2)
    if loss <= lying:
        return min(FULL_KG_M2, water - loss)
    left = loss - lying
    return min(PORES_KG_M2, water) * math.exp(-left / PORES_KG_M2)


def moisture(airs: Sequence[Air], start_s: float, wettings: Sequence[Wetting], pace: float = 1.0) -> Moisture:
    """The store at each hour, wet through from `start_s` on (the concrete was placed).

    airs -- hour after hour from time 0, each the air of the whole hour: one less than the hours told
    wettings -- in any order; those at one time: dry tests first
    """
    events = sorted(wettings, key=lambda one: (one.at_s, not one.dry))
    water, cause = FULL_KG_M2, "placing"
    levels: list[float] = [water]
    causes: list[Cause] = ["placing"]
    dried: list[float] = []  # times at which it turned dry
    index = 0
    for hour, mean in enumerate(airs):
        for part in range(3600 // SUBSTEP_S):
            now_s = hour * 3600.0 + part * SUBSTEP_S
            was = water
            if now_s >= start_s:
                water = water_after(water, mean, SUBSTEP_S, pace)
            if water > DRY_KG_M2 >= was:
                cause = "rain" if mean.rain_mm > 0.0 else "cover" if mean.cover == "wet" else "dew"
            elif mean.rain_mm > 0.2 and water > was:
                cause = "rain"
            while index < len(events) and events[index].at_s <= now_s + SUBSTEP_S:
                event, index = events[index], index + 1
                water = 0.0 if event.dry else max(water, FULL_KG_M2 if event.cause == "wash" else PORES_KG_M2)
                cause = cause if event.dry else event.cause
            if water <= DRY_KG_M2 < was:
                dried.append(now_s + SUBSTEP_S)
        levels.append(water)
        causes.append(cause)  # type: ignore[arg-type]
    return Moisture(tuple(levels), tuple(causes), tuple(_dry_from(levels, dried)))


def _dry_from(levels: Sequence[float], dried: Sequence[float]) -> list[float]:
    found = []
    for hour, level in enumerate(levels):
        now_s = hour * 3600.0
        later = next((at for at in dried if at >= now_s), math.inf)
        found.append(now_s if level <= DRY_KG_M2 else later)
    return found


def air_between(one: Air, other: Air) -> Air:
    """The air of the hour from one to the other; rain and cover are told for the hour that begins."""
    return Air(
        (one.surface_c + other.surface_c) / 2.0,
        (one.vapour_kpa + other.vapour_kpa) / 2.0,
        (one.wind_kmh + other.wind_kmh) / 2.0,
        one.rain_mm,
        one.cover,
    )
