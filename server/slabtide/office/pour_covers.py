"""What lies over the slab, as the engine asks for it: each cover from its laying to its lifting."""

from collections.abc import Sequence
from datetime import datetime, timedelta
from typing import Any

from slabtide.engine.pour import WeatherHour
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import Cover, JobView
from slabtide.office.assumed import Assumption, cover_left_out, cover_stays

MOST_COVERS = 100
LONGEST = timedelta(days=14)  # a cover nobody has lifted, where weather goes on past that; a setting (EST)


def covers_json(
    view: JobView, known: set[str], hours: Sequence[WeatherHour], assumptions: list[Assumption]
) -> list[dict[str, Any]]:
    """The covers of the loads that are there, the latest 100: that is what the engine takes.

    One that still lies is taken to lie as far as the weather goes, and that is said. One lifted no later than
    it was laid never lay; nor does one over a load since taken back.
    """
    found = []
    for cover in sorted(view.covers, key=lambda one: (one.laid.at, one.id)):
        starts, ends = read_instant(cover.laid.at), _ends(cover, hours)
        if ends <= starts:
            continue
        if cover.load is not None and cover.load not in known:
            assumptions.append(cover_left_out(cover.kind))
            continue
        if cover.lifted is None:
            assumptions.append(cover_stays(cover.kind))
        found.append(_cover(cover, starts, ends))
    return found[-MOST_COVERS:]


def _ends(cover: Cover, hours: Sequence[WeatherHour]) -> datetime:
    if cover.lifted is not None:
        return read_instant(cover.lifted.at)
    return min(hours[-1].at, read_instant(cover.laid.at) + LONGEST)


def _cover(cover: Cover, starts: datetime, ends: datetime) -> dict[str, Any]:
    data: dict[str, Any] = {"from": write_instant(starts), "to": write_instant(ends), "kind": cover.kind}
    if cover.r_m2k_w is not None:
        data["r_m2k_w"] = cover.r_m2k_w
    return data if cover.load is None else data | {"load": cover.load}
