"""What a closed job came to, in numbers: times predicted against kept, pace, callbacks, volume."""

from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.engine.crew import CARRY_MINUTES, DETAIL_FROM, DETAIL_SHARE, crew_rate
from slabtide.engine.pour import Texturing
from slabtide.log.instants import read_instant
from slabtide.log.model import Crew, JobView
from slabtide.office.learned.marks import told_by_marks
from slabtide.office.record.facts import placing
from slabtide.office.record.kept import Kept, Three, windows_kept

MEASURES = ("texture_opens", "texture_closes", "saw_opens")
_LEAST_MINUTES = 5.0  # a shorter span is a slip of the thumb, no pace (EST)


def shown_of(view: JobView, marks: Iterable[Any]) -> dict[str, Any]:
    """What looking back counts with, of one job. Times against the forecast that stood at placing.

    marks -- the job's rows of `ForecastMark`
    """
    rows = list(marks)
    after = {row.load for row in rows if row.stage == "at_placing" and row.afterwards}
    kept = windows_kept(view, told_by_marks(rows, "at_placing"))
    return {
        "day": _day(view),
        "kept": [each | {"afterwards": one.load.id in after} for one in kept for each in _errors(one)],
        "pace": _pace(view),
        "callbacks": [{"what": one.what, "at": one.at} for one in view.callbacks],
        "volume": _volume(view),
    }


def poured_at(view: JobView) -> datetime | None:
    """When the first concrete came down; None before any did."""
    span = placing(view)
    return span.begins if span else None


def _day(view: JobView) -> str:
    """The pour's day where the slab lies, that of closing where nothing was poured."""
    assert view.closed is not None
    moment = poured_at(view) or read_instant(view.closed.at)
    zone = ZoneInfo(view.opened.time_zone if view.opened else "UTC")
    return moment.astimezone(zone).date().isoformat()


def _errors(one: Kept) -> list[dict[str, Any]]:
    """Minutes after the likely time (below zero before it), and whether inside the 80 % band."""
    if one.done is None:
        return []
    pairs: list[tuple[str, Three | None, datetime | None]] = []
    if one.work == "texture":
        pairs = [("texture_opens", one.opens, one.done.begins), ("texture_closes", one.closes, one.done.ends)]
    elif one.work == "saw":
        pairs = [("saw_opens", one.opens, one.done.begins)]
    return [
        {
            "measure": measure,
            "load": one.load.number,
            "error_min": round((at - read_instant(told["likely"])).total_seconds() / 60, 1),
            "inside": read_instant(told["early"]) <= at <= read_instant(told["late"]),
        }
        for measure, told, at in pairs
        if told is not None and at is not None
    ]


def _pace(view: JobView) -> dict[str, Any] | None:
    """Area textured per person and hour; minutes a mat took beside those entered. Waiting counts in."""
    done = [
        (read_instant(step.start.at), read_instant(step.end.at), bay.area_m2)
        for bay in view.bays
        if (step := bay.steps.get("texture")) and step.start and step.end
    ]
    minutes = _minutes([(begins, ends) for begins, ends, _ in done])
    crew = view.crew
    if crew is None or minutes < _LEAST_MINUTES:
        return None
    area_m2 = sum(area for _, _, area in done)
    return {
        "people": crew.people,
        "area_m2": round(area_m2, 2),
        "minutes": round(minutes, 1),
        "m2_per_person_hour": round(area_m2 / (crew.people * minutes / 60), 2),
        "lay_minutes": _lay_minutes(crew, area_m2 / (minutes / 60)),
        "lay_minutes_entered": crew.lay_minutes,
    }


def _minutes(spans: Sequence[tuple[datetime, datetime]]) -> float:
    """The minutes in which anyone textured: bays worked at once count once."""
    total, reached = 0.0, None
    for begins, ends in sorted(spans):
        begins = begins if reached is None else max(begins, reached)
        total += max(0.0, (ends - begins).total_seconds() / 60)
        reached = ends if reached is None else max(reached, ends)
    return total


def _lay_minutes(crew: Crew, m2_per_hour: float) -> float | None:
    """The minutes to lay one mat that this pace comes to; `engine.crew.crew_rate` read backwards."""
    if not (crew.mats and crew.mat_area_m2 and crew.lay_minutes):
        return None
    mats_per_hour = m2_per_hour / crew.mat_area_m2
    texturing = Texturing(crew.people, crew.mats, crew.mat_area_m2, crew.lay_minutes)
    if crew_rate(texturing).limited_by == "mats":
        return round(max(0.0, (crew.mats * 60 / mats_per_hour - CARRY_MINUTES) / 2), 2)
    with_detail = crew.people >= DETAIL_FROM
    at_work = crew.people - 1 if with_detail else crew.people * (1 - DETAIL_SHARE)
    return round(max(0.0, at_work * 60 / mats_per_hour - CARRY_MINUTES), 2)


def _volume(view: JobView) -> Mapping[str, float | None]:
    placed = [load.volume_m3 for load in view.loads if load.placed]
    return {
        "ordered_m3": view.order.volume_m3 if view.order else None,
        "placed_m3": round(sum(placed), 3) if placed else None,
        "slab_m3": round(view.slab.volume_m3, 3) if view.slab else None,
    }
