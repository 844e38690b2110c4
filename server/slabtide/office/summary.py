"""What the board shows of a job, taken from its view once and kept until the job changes."""

from typing import Any

from slabtide.log.checklists import progress
from slabtide.log.model import JobView


def summary_of(view: JobView, devices: tuple[str, ...]) -> dict[str, Any]:
    """JSON-ready; volumes in m3. `devices`: those that wrote to the job."""
    opened, order = view.opened, view.order
    placed = [load for load in view.loads if load.placed is not None]
    return {
        "name": view.name,
        "place": opened.place if opened else None,
        "use": opened.use if opened else "other",
        "time_zone": opened.time_zone if opened else "UTC",
        "latitude_deg": opened.latitude_deg if opened else None,
        "longitude_deg": opened.longitude_deg if opened else None,
        "phase": view.phase,
        "pour_at": order.pour_at if order else None,
        "volume_ordered_m3": order.volume_m3 if order else None,
        "volume_placed_m3": round(sum(load.volume_m3 for load in placed), 3),
        "loads_placed": len(placed) + len(view.unticketed),
        "loads_ordered": order.loads if order else None,
        "open_pins": sum(pin.open for pin in view.pins),
        "checklists": {
            name: {"done": part.done, "total": part.total} for name, part in progress(view).items()
        },
        "named": _named(view),
        "closed": view.closed is not None,
        "devices": list(devices),
    }


def _named(view: JobView) -> dict[str, Any]:
    """Who and what does the work, and how long the saw is at it: what conflicts between jobs rest on."""
    crew = view.crew
    if crew is None:
        return {}
    length, rate = crew.saw_length_m, crew.saw_rate_m_per_min
    return {
        "crew": crew.crew_name,
        "saw": crew.saw_name,
        "sprayer": crew.sprayer_name,
        "saw_min": round(length / rate, 1) if length and rate else None,
    }
