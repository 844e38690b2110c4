"""How far the crew has come with texturing, from the marks on the bays, as the engine takes it."""

from collections.abc import Collection
from typing import Any

from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import Bay, JobView


def with_progress(data: dict[str, Any], view: JobView) -> dict[str, Any]:
    """The engine's input with what is textured so far; unchanged where no crew is told or no bay is begun."""
    crew = data.get("texturing")
    parts = worked_parts(view, [load["id"] for load in data["loads"]]) if crew else []
    return data | {"texturing": crew | {"worked": parts}} if crew and parts else data


def worked_parts(view: JobView, loads: Collection[str]) -> list[dict[str, Any]]:
    """Each bay that texturing was begun on, as a part of its load: {"load", "area_m2", "from", "to"?}.

    loads -- the loads the engine is told of. A bay of none of them is left out; where there is only one load,
    it is that one's.
    """
    only = next(iter(loads)) if len(loads) == 1 else None
    parts = []
    for bay in view.bays:
        load = bay.load if bay.load in loads else only
        if load is not None and (span := _span(bay)) is not None:
            parts.append({"load": load, "area_m2": round(max(bay.area_m2, 0.01), 3)} | span)
    return parts


def _span(bay: Bay) -> dict[str, str] | None:
    """From when to when; a bay begun again after its end is still being worked."""
    step = bay.steps.get("texture")
    if step is None or (step.start is None and step.end is None):
        return None
    end = read_instant(step.end.at) if step.end else None
    start = read_instant(step.start.at) if step.start else end
    assert start is not None
    if end is None or end < start:
        return {"from": write_instant(start)}
    return {"from": write_instant(start), "to": write_instant(end)}
