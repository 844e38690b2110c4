"""The pour a decision is about: what is placed, and the loads that are still to come as ordered."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any

from slabtide.engine.contract import ContractError, read_pour
from slabtide.engine.pour import Pour
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import JobView
from slabtide.office.assumed import Assumption, loads_to_come
from slabtide.office.learned.known import Prior, with_prior
from slabtide.office.pour import BETWEEN_LOADS, HAUL, PLACING, PlannedPour, planned_pour, pour_json
from slabtide.office.wording import problem_of_contract
from slabtide.office.working import BEFORE_BATCHING, HORIZON, Stored, short_of_weather
from slabtide.weather.assemble import weather_for
from slabtide.weather.contract import Problem

_STILL_COMES = timedelta(hours=4)  # after the last ticket, the rest of the order is not waited for (EST)
_LEAST_LEFT = 0.03  # of the slab: less than this is no load (EST)


@dataclass(frozen=True, slots=True)
class Ahead:
    """A pour the engine can be asked about, what its loads are to people, and what was assumed.

    `loads`: {"id", "number", "batched": bool, "placed": bool} in the order of the engine's loads.
    """

    pour: Pour
    planned: bool
    loads: tuple[dict[str, Any], ...]
    assumptions: tuple[Assumption, ...]


def pour_ahead(
    view: JobView,
    stored: Stored,
    now: datetime,
    start: datetime | None = None,
    end: datetime | None = None,
    prior: Prior | None = None,
) -> Ahead | Problem:
    """The pour as it stands at `now` with the loads still to come; or what is missing.

    stored -- gives the weather hours kept for the job from one moment to another
    prior -- what the company knows of the mix
    start, end -- how far weather is wanted; left out, an hour before the pour to five days after
    """
    pour = planned_pour(view)
    if isinstance(pour, Problem):
        return pour
    pour = with_loads_to_come(view, pour, now)
    start = start or pour.begins - BEFORE_BATCHING
    end = end or pour.ends + HORIZON
    weather = weather_for(view, stored(start - BEFORE_BATCHING, end), start, end)
    if (short := short_of_weather(weather, pour)) is not None:
        return short
    data, assumptions = pour_json(view, pour, weather.hours)
    try:
        read = read_pour(with_prior(data, prior))
    except ContractError as error:
        return problem_of_contract(error.problems, view)
    loads = tuple(_named(view, load, index, now) for index, load in enumerate(pour.loads, 1))
    return Ahead(read, pour.planned, loads, assumptions)


def with_loads_to_come(view: JobView, pour: PlannedPour, now: datetime) -> PlannedPour:
    """The pour with what is ordered and not ticketed yet, in equal loads 45 min apart after the last one."""
    if pour.planned or view.order is None or view.slab is None or view.closed is not None:
        return pour
    missing = view.order.loads - len(pour.loads)
    left_m2 = view.slab.area_m2 - sum(load["area_m2"] for load in pour.loads)
    last = max(read_instant(load["batched_at"]) for load in pour.loads)
    if missing < 1 or left_m2 < _LEAST_LEFT * view.slab.area_m2 or now > last + _STILL_COMES:
        return pour
    first = max(last + BETWEEN_LOADS, now + timedelta(minutes=1))
    coming = [
        _coming(len(pour.loads) + index + 1, first + index * BETWEEN_LOADS, left_m2 / missing)
        for index in range(missing)
    ]
    said = loads_to_come(missing, BETWEEN_LOADS)
    return replace(pour, loads=(*pour.loads, *coming), assumptions=(*pour.assumptions, said))


def _coming(number: int, batched: datetime, area_m2: float) -> dict[str, Any]:
    return {
        "id": f"planned-{number}",
        "batched_at": write_instant(batched),
        "placed_from": write_instant(batched + HAUL),
        "placed_to": write_instant(batched + HAUL + PLACING),
        "area_m2": round(area_m2, 3),
    }


def _named(view: JobView, load: dict[str, Any], index: int, now: datetime) -> dict[str, Any]:
    number = next((one.number for one in view.loads if one.id == load["id"]), index)
    return {
        "id": load["id"],
        "number": number,
        "batched": read_instant(load["batched_at"]) <= now,
        "placed": read_instant(load["placed_from"]) <= now,
    }
