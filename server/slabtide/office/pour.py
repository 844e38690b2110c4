"""From a job's log to the engine's question: what was placed (or is planned), on what, in which weather."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from slabtide.engine.pour import WeatherHour
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import Check, Crew, JobView, Load, Slab
from slabtide.office import assumed
from slabtide.office.assumed import Assumption
from slabtide.office.days.told import days_json
from slabtide.office.pour_covers import covers_json
from slabtide.office.pour_mix import load_admixtures, mix_json, say_water
from slabtide.office.progress import with_progress
from slabtide.weather.contract import Problem

WARMER_THAN_AIR_C = 2.0  # concrete of unknown temperature; common practice, no source
HAUL = timedelta(minutes=30)  # batching to placing; common practice, no source
PLACING = timedelta(minutes=25)  # one load; common practice, no source
BETWEEN_LOADS = timedelta(minutes=45)  # planned loads; common practice, no source
CUT_M_PER_M2 = 0.55  # panels of about 3.6 m both ways; common practice, no source
SAW_RATE_M_PER_MIN = 1.0  # common practice, no source
MOST_CHECKS = 500
MOST_INNER_CORNERS = 50


@dataclass(frozen=True, slots=True)
class PlannedPour:
    """The loads of a job in time, before weather is known. `planned`: from the order, nothing placed yet.

    `loads` are engine loads without a temperature unless one was read; `assumptions` say what was assumed.
    """

    loads: tuple[dict[str, Any], ...]
    planned: bool
    assumptions: tuple[Assumption, ...]

    @property
    def begins(self) -> datetime:
        """When the first load was (or will be) batched."""
        return min(read_instant(load["batched_at"]) for load in self.loads)

    @property
    def ends(self) -> datetime:
        """When the last load is placed."""
        return max(read_instant(load["placed_to"]) for load in self.loads)


def planned_pour(view: JobView) -> PlannedPour | Problem:
    """The loads as placed, or as ordered while none is; or what is still missing."""
    if view.opened is None:
        return Problem("job_not_open", "The job has no place or time zone yet.", "Open it under Lay out.")
    if view.slab is None:
        return Problem(
            "slab_missing", "The slab is not drawn yet.", "Draw its outline and thickness under Lay out."
        )
    if view.loads or view.unticketed:
        return _as_placed(view, view.slab)
    if view.order is None:
        return Problem(
            "order_missing",
            "There is no pour time yet.",
            "Enter the order: volume, loads and when the first truck comes.",
        )
    return _as_ordered(view.slab, view.order.loads, read_instant(view.order.pour_at))


def pour_json(
    view: JobView, pour: PlannedPour, hours: Sequence[WeatherHour]
) -> tuple[dict[str, Any], tuple[Assumption, ...]]:
    """The engine's input, and what was assumed in making it. `hours` must cover the pour."""
    assert view.opened is not None
    assert view.slab is not None
    assumptions = list(pour.assumptions)
    loads = [_with_temperature(load, hours, assumptions) for load in pour.loads]
    known = {load["id"] for load in loads}
    data: dict[str, Any] = {
        "version": 1,
        "time_zone": view.opened.time_zone,
        "slab": _slab(view.slab, assumptions),
        "loads": loads,
        "checks": [_check(check) for check in _latest_checks(view, known)],
        "weather": {"hourly": [_hour(hour) for hour in hours]},
    }
    if (mix := mix_json(view, assumptions)) is not None:
        data["mix"] = mix
    own = load_admixtures(view, [load["id"] for load in loads], assumptions)
    for load in loads:
        load |= {"admixtures": own[load["id"]]} if load["id"] in own else {}
    say_water(view, assumptions)
    if covers := covers_json(view, known, hours, assumptions):
        data["covers"] = covers
    return with_progress(data | days_json(view, known) | _crew(view), view), tuple(dict.fromkeys(assumptions))


def _crew(view: JobView) -> dict[str, Any]:
    """Who textures and who saws, as far as it is told."""
    data: dict[str, Any] = {}
    crew = view.crew
    if crew and crew.mats and crew.mat_area_m2 and crew.lay_minutes:
        data["texturing"] = {
            "people": crew.people,
            "mats": crew.mats,
            "mat_area_m2": _within(crew.mat_area_m2, 0.05, 3.0),
            "lay_minutes": crew.lay_minutes,
        }
    if crew and crew.saw_kind and view.slab:
        data["saw"] = _saw(crew, view.slab)
    return data


def _as_ordered(slab: Slab, count: int, pour_at: datetime) -> PlannedPour:
    loads = []
    for index in range(count):
        arrives = pour_at + index * BETWEEN_LOADS
        loads.append(
            _load(f"planned-{index + 1}", arrives - HAUL, arrives, arrives + PLACING, slab.area_m2 / count)
        )
    return PlannedPour(tuple(loads), True, (assumed.planned_loads(count, BETWEEN_LOADS),))


def _as_placed(view: JobView, slab: Slab) -> PlannedPour:
    assumptions: list[Assumption] = []
    loads = [_ticketed(load, slab, assumptions) for load in view.loads]
    loads += _unticketed(view, slab, sum(load["area_m2"] for load in loads), assumptions)
    return PlannedPour(tuple(loads), False, tuple(assumptions))


def _ticketed(load: Load, slab: Slab, assumptions: list[Assumption]) -> dict[str, Any]:
    batched = read_instant(load.batched_at)
    placed_from, placed_to = batched + HAUL, batched + HAUL + PLACING
    if load.placed is not None:
        placed_from, placed_to = read_instant(load.placed.from_), read_instant(load.placed.to)
    else:
        assumptions.append(assumed.placing_begins(load.number, HAUL))
    area_m2 = load.area_m2 or load.volume_m3 / slab.thickness_m
    data = _load(load.id, batched, placed_from, placed_to, area_m2)
    if load.concrete_temp_c is not None:
        data["concrete_temp_c"] = load.concrete_temp_c
    return data | {"number": load.number}


def _unticketed(
    view: JobView, slab: Slab, known_m2: float, assumptions: list[Assumption]
) -> Iterator[dict[str, Any]]:
    """Placements without a ticket share the area that no ticket claims."""
    share_m2 = max(slab.area_m2 - known_m2, slab.area_m2 * 0.1) / max(len(view.unticketed), 1)
    for load in view.unticketed:
        placed_from, placed_to = read_instant(load.placed.from_), read_instant(load.placed.to)
        assumptions.append(assumed.batching_of_unticketed(HAUL))
        yield _load(load.id, placed_from - HAUL, placed_from, placed_to, load.placed.area_m2 or share_m2)


def _load(
    name: str, batched: datetime, placed_from: datetime, placed_to: datetime, area_m2: float
) -> dict[str, Any]:
    return {
        "id": name,
        "batched_at": write_instant(batched),
        "placed_from": write_instant(placed_from),
        "placed_to": write_instant(placed_to),
        "area_m2": round(area_m2, 3),
    }


def _with_temperature(
    load: dict[str, Any], hours: Sequence[WeatherHour], assumptions: list[Assumption]
) -> dict[str, Any]:
    """The load with a concrete temperature: as read, else the air at batching and 2 °C."""
    number = load.get("number")
    plain = {key: value for key, value in load.items() if key != "number"}
    if "concrete_temp_c" in plain:
        return plain
    batched = read_instant(load["batched_at"])
    air_c = min(hours, key=lambda hour: abs(hour.at - batched)).air_temp_c
    assumptions.append(assumed.concrete_temperature(number, WARMER_THAN_AIR_C))
    warm_c = _within(air_c + WARMER_THAN_AIR_C, 2.0, 45.0)
    return plain | {"concrete_temp_c": round(warm_c, 2)}


def _slab(slab: Slab, assumptions: list[Assumption]) -> dict[str, Any]:
    uncut_m = slab.uncut_length_m
    if uncut_m is None:
        uncut_m = _extent_m(slab)
        assumptions.append(assumed.longest_run(uncut_m))
    told = {key: value for key in ("shade", "base_friction") if (value := getattr(slab, key)) is not None}
    return told | {
        "area_m2": slab.area_m2,
        "thickness_m": slab.thickness_m,
        "insulation_r_m2k_w": slab.insulation_r_m2k_w,
        "ground_temp_c": slab.ground_temp_c,
        "solar_absorptivity": slab.solar_absorptivity,
        "uncut_length_m": _within(uncut_m, 0.5, 100.0),
        "neighbours": round(slab.bonded_share, 4),
        "reentrant_corners": min(slab.reentrant_corners, MOST_INNER_CORNERS),
    }


def _within(value: float, low: float, high: float) -> float:
    """The value, brought into what the engine takes: the log allows a little more in places."""
    return min(max(value, low), high)


def _extent_m(slab: Slab) -> float:
    xs = [corner[0] for corner in slab.corners]
    ys = [corner[1] for corner in slab.corners]
    return max(max(xs) - min(xs), max(ys) - min(ys))


def _latest_checks(view: JobView, known: set[str]) -> list[Check]:
    """Checks of loads that are there, the last 500 at most: that is what the engine takes."""
    return sorted((check for check in view.checks if check.load in known), key=lambda c: c.at)[-MOST_CHECKS:]


def _check(check: Check) -> dict[str, Any]:
    data = {"load": check.load, "at": check.at, "kind": check.kind}
    return data if check.depth_mm is None else data | {"depth_mm": check.depth_mm}


def _saw(crew: Crew, slab: Slab) -> dict[str, Any]:
    return {
        "kind": crew.saw_kind,
        "length_m": crew.saw_length_m or round(slab.area_m2 * CUT_M_PER_M2, 1),
        "rate_m_per_min": _within(crew.saw_rate_m_per_min or SAW_RATE_M_PER_MIN, 0.05, 20.0),
    }


def _hour(hour: WeatherHour) -> dict[str, Any]:
    return {
        "at": write_instant(hour.at),
        "air_temp_c": round(_within(hour.air_temp_c, -40.0, 55.0), 2),
        "rh": round(hour.rh, 4),
        "wind_kmh": round(hour.wind_kmh, 2),
        "wind_height_m": hour.wind_height_m,
        "cloud": round(hour.cloud, 3),
        "solar_w_m2": round(hour.solar_w_m2, 1),
        "rain_mm": hour.rain_mm,
    }
