"""From where a thing is held against an hour to pour, makes it tight, or stops it. Settings, with sources."""

from dataclasses import dataclass

from slabtide.engine.evaporation import PRECAUTION_KG_M2_H
from slabtide.engine.heat_index import DANGER_C, EXTREME_CAUTION_C, EXTREME_DANGER_C
from slabtide.engine.notices import COLD_AIR_C, COLD_CONCRETE_C, HOT_CONCRETE_C
from slabtide.engine.spoiling import DRIES_KG_M2_H, RAIN_SPOILS_MM


@dataclass(frozen=True, slots=True)
class AdviceLimits:
    """The levels of advice; a company that knows better sets its own. EST where no source is named.

    A slab is not poured twice: a chance to miss of 1 in 10 is tight, of about 1 in 3 a no-go.
    """

    miss_tight: float = 0.10
    miss_stop: float = 0.35
    wet_mm_h: float = 0.2
    rain_stop_mm_h: float = RAIN_SPOILS_MM
    evaporation_tight_kg_m2_h: float = PRECAUTION_KG_M2_H  # ACI 305.1
    evaporation_stop_kg_m2_h: float = DRIES_KG_M2_H
    heat_note_c: float = EXTREME_CAUTION_C  # NWS, extreme caution
    heat_tight_c: float = DANGER_C  # NWS, danger
    heat_stop_c: float = EXTREME_DANGER_C  # NWS, extreme danger
    cold_air_c: float = COLD_AIR_C  # ACI 306
    freezing_air_c: float = -2.0
    cold_concrete_c: float = COLD_CONCRETE_C  # ACI 306
    hot_concrete_c: float = HOT_CONCRETE_C  # ACI 305.1
    dark_note_min: float = 15.0  # of placing and texturing, without lights
    dark_tight_min: float = 45.0
    dark_stop_min: float = 120.0
    work_from_h: float = 5.0  # hours of the day at which a saw may run
    work_to_h: float = 21.0
    cut_least_min: float = 60.0


DEFAULT_LIMITS = AdviceLimits()
