"""What the weather does to concrete that lies there, which can't be called off: the hour, and what to do."""

import math
from collections.abc import Iterator
from datetime import datetime, timedelta, tzinfo

from slabtide.engine.notice_wording import told
from slabtide.engine.notices_seen import Clock, LoadView, spells
from slabtide.engine.pour import Pour
from slabtide.engine.spoiling import RAIN_SPOILS_MM, dries_at, open_rain
from slabtide.engine.timeline import Notice

WET_MM = 0.2  # in an hour: less is no rain to speak of (EST)
_HOUR_S = 3600.0


def placed_notices(pour: Pour, view: LoadView, clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    """Rain, frost and drying that a placed load is in for before it can bear them."""
    yield from _rain(pour, view, clock, zone)
    if view.frost_s is not None:
        end = clock.at(view.history.times_s[-1])
        case = "likely" if view.frost_likely else "possible"
        yield told("frost_on_placed", view.load.id, clock.at(view.frost_s), end, zone, case=case)
    dry_s = dries_at(view.history)
    if dry_s <= view.final_set_s:
        demands = zip(view.history.times_s, view.history.demand, strict=True)
        most = max(demand for time, demand in demands if dry_s <= time <= view.final_set_s)
        start, end = clock.at(dry_s), clock.at(view.final_set_s)
        yield told("drying_on_placed", view.load.id, start, end, zone, evaporation_kg_m2_h=most)


def _rain(pour: Pour, view: LoadView, clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    """Each spell with an hour of harmful rain, from when it begins, if that is before final set."""
    wet = {from_s: mm for from_s, mm in open_rain(pour, view.load) if mm >= WET_MM}
    for start, end in spells(_hours(wet, clock)):
        fallen = [mm for from_s, mm in wet.items() if start <= clock.at(from_s) <= end]
        starts_s = clock.seconds(start)
        if starts_s >= view.final_set_s or max(fallen) < RAIN_SPOILS_MM:
            continue
        yield told(
            "rain_on_placed",
            view.load.id,
            start,
            end + timedelta(hours=1),
            zone,
            case=_stage(view, starts_s),
            rain_mm=sum(fallen),
            rain_mm_h=max(fallen),
        )


def _hours(wet: dict[float, float], clock: Clock) -> list[tuple[datetime, bool]]:
    """The wet hours as a series that is false wherever an hour between them is dry."""
    series: list[tuple[datetime, bool]] = []
    for from_s in sorted(wet):
        hour_s = _HOUR_S * math.floor(from_s / _HOUR_S)
        if series and clock.seconds(series[-1][0]) < hour_s - _HOUR_S:
            series.append((clock.at(hour_s - _HOUR_S), False))
        series.append((clock.at(from_s), True))
    return series


def _stage(view: LoadView, starts_s: float) -> str:
    """What the rain falls on: fresh concrete, texturing under way, texture that has not set."""
    band = view.bands["texture"]
    if band.opens is None or band.closes is None or starts_s >= band.closes[1]:
        return "printed"
    return "fresh" if starts_s < band.opens[1] else "texture"
