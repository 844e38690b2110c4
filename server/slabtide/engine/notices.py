"""What to watch for: which notice, when, with what numbers. The words stand in `notice_wording`."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, timedelta, tzinfo
from zoneinfo import ZoneInfo

from slabtide.engine.bleeding import outruns_bleeding
from slabtide.engine.evaporation import PRECAUTION_KG_M2_H
from slabtide.engine.heat_index import DANGER_C, EXTREME_CAUTION_C, heat_index_c
from slabtide.engine.history import HORIZON_S
from slabtide.engine.notice_wording import told
from slabtide.engine.notices_placed import WET_MM, placed_notices
from slabtide.engine.notices_seen import Clock, LoadView, spells
from slabtide.engine.pour import Pour
from slabtide.engine.saw_practice import SURFACE_DROP_K
from slabtide.engine.spoiling import RAIN_SPOILS_MM
from slabtide.engine.timeline import Notice, Param

__all__ = ["Clock", "LoadView", "all_notices"]

COLD_CONCRETE_C = 12.8  # ACI 306: 55 °F as placed, slabs under 12 in
HOT_CONCRETE_C = 35.0  # ACI 305.1: 95 °F at discharge
COLD_AIR_C = 4.4  # ACI 306: 40 °F
_AT_RISK = 0.10
_COLD_WATCH = timedelta(hours=48)
_NIGHT_S = 12 * 3600


def all_notices(pour: Pour, views: Sequence[LoadView], clock: Clock) -> tuple[Notice, ...]:
    """Every notice for a pour: the pour's own first, then load by load, in order of time."""
    zone = ZoneInfo(pour.time_zone)
    whole = [*_weather_notices(pour, views, clock, zone), *_crew_notices(pour, views, clock, zone)]
    for view in views:
        found = [
            *_ticket_notices(view, zone),
            *_surface_notices(pour, view, clock, zone),
            *_later_notices(view, clock, zone),
            *(placed_notices(pour, view, clock, zone) if view.placed else ()),
        ]
        found += _window_notices(view, clock, zone)
        whole += sorted(found, key=lambda notice: notice.starts)
    return tuple(whole)


def _weather_notices(pour: Pour, views: Sequence[LoadView], clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    hourly = pour.weather.hourly
    begins = min(view.load.placed_from for view in views).astimezone(UTC)
    weather_ends = hourly[-1].at.astimezone(UTC)
    if any(clock.at(view.history.times_s[0] + HORIZON_S) > weather_ends for view in views):
        yield told("weather_ends", None, weather_ends, weather_ends, zone)
    if all(hour.solar_w_m2 == 0.0 for hour in hourly):
        yield told("no_sun_given", None, begins, weather_ends, zone)
    yield from _rain_notices(pour, views, clock, zone)
    watched = [hour for hour in hourly if begins <= hour.at <= begins + _COLD_WATCH]
    for start, end in spells([(hour.at, hour.air_temp_c < COLD_AIR_C) for hour in watched])[:1]:
        coldest = min(hour.air_temp_c for hour in watched)
        yield told("cold_air", None, start, end, zone, limit_c=COLD_AIR_C, coldest_air_c=coldest)
    if pour.slab.ground_temp_c <= 0.0:
        yield told("frozen_ground", None, begins, begins, zone, ground_temp_c=pour.slab.ground_temp_c)


def _rain_notices(pour: Pour, views: Sequence[LoadView], clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    """Rain before the slab has set. Where all of it lies there, rain that harms is told load by load."""
    hourly, all_placed = pour.weather.hourly, all(view.placed for view in views)
    begins = min(view.load.placed_from for view in views).astimezone(UTC)
    ends = max(clock.at(view.final_set_s) for view in views)
    for start, end in spells([(hour.at, hour.rain_mm >= WET_MM) for hour in hourly]):
        if start >= ends or end + timedelta(hours=1) <= begins:
            continue
        fallen = [hour.rain_mm for hour in hourly if start <= hour.at <= end]
        if all_placed and max(fallen) >= RAIN_SPOILS_MM:
            continue
        case: dict[str, Param] = {"case": "placed"} if all_placed else {}
        yield told("rain", None, start, end + timedelta(hours=1), zone, rain_mm=sum(fallen), **case)


def _crew_notices(pour: Pour, views: Sequence[LoadView], clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    begins = min(view.load.placed_from for view in views).astimezone(UTC)
    ends = max(clock.at(view.final_set_s) for view in views)
    worked = [hour for hour in pour.weather.hourly if begins - timedelta(hours=1) < hour.at <= ends]
    felt = [(hour.at, heat_index_c(hour.air_temp_c, hour.rh)) for hour in worked]
    for start, end in spells([(at, index >= EXTREME_CAUTION_C) for at, index in felt]):
        peak = max(index for at, index in felt if start <= at <= end)
        case: dict[str, Param] = {"case": "danger"} if peak >= DANGER_C else {}
        yield told("heat_stress", None, start, end + timedelta(hours=1), zone, heat_index_c=peak, **case)


def _ticket_notices(view: LoadView, zone: tzinfo) -> Iterator[Notice]:
    load, temp_c = view.load, view.load.concrete_temp_c
    start, end = load.placed_from.astimezone(UTC), load.placed_to.astimezone(UTC)
    if temp_c < COLD_CONCRETE_C:
        yield told(
            "cold_concrete", load.id, start, end, zone, concrete_temp_c=temp_c, limit_c=COLD_CONCRETE_C
        )
    if temp_c >= HOT_CONCRETE_C:
        yield told("hot_concrete", load.id, start, end, zone, concrete_temp_c=temp_c, limit_c=HOT_CONCRETE_C)


def _surface_notices(pour: Pour, view: LoadView, clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    history = view.history
    fresh = [
        (clock.at(time), demand)
        for time, demand in zip(history.times_s, history.demand, strict=True)
        if time <= view.final_set_s
    ]

    def most(start: datetime, end: datetime) -> float:
        return max(demand for at, demand in fresh if start <= at <= end)

    for start, end in spells([(at, demand >= PRECAUTION_KG_M2_H) for at, demand in fresh]):
        loss = most(start, end)
        yield told("evaporation_high", view.load.id, start, end, zone, evaporation_kg_m2_h=loss)
    share = pour.mix.bleed_share
    early = spells([(at, outruns_bleeding(demand, share)) for at, demand in fresh])
    dry_s = history.film_dry_s
    if early and dry_s is not None and dry_s <= history.times_s[0] + 1800:
        start, end = early[0]
        yield told("crusting", view.load.id, start, end, zone, evaporation_kg_m2_h=most(start, end))


def _later_notices(view: LoadView, clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    end = clock.at(view.history.times_s[-1])
    if view.frost_s is not None and not view.placed:
        case = "likely" if view.frost_likely else "possible"
        yield told("freezing", view.load.id, clock.at(view.frost_s), end, zone, case=case)
    saw, drop_s = view.bands["saw"], view.drop_s
    if drop_s is not None and (saw.closes is None or drop_s <= saw.closes[2]):
        at = clock.at(drop_s)
        case = "too_late" if saw.opens is None or drop_s < saw.opens[1] else "in_time"
        peak, coldest = _peak_and_low(view)
        params: dict[str, Param] = {"peak_c": peak, "coldest_c": coldest, "drop_k": SURFACE_DROP_K}
        yield told("first_night_drop", view.load.id, at, at, zone, case=case, **params)


def _peak_and_low(view: LoadView) -> tuple[float, float]:
    """The surface's warmest from final set on, and its coldest in the night after it [°C]."""
    times, surface = view.history.times_s, view.history.surface_c
    after = [(t, c) for t, c in zip(times, surface, strict=True) if t >= view.final_set_s]
    until_s = (view.drop_s or view.final_set_s) + _NIGHT_S
    peak = max(c for t, c in after if t <= (view.drop_s or until_s))
    return peak, min(c for t, c in after if t <= until_s)


def _window_notices(view: LoadView, clock: Clock, zone: tzinfo) -> Iterator[Notice]:
    start, end = clock.at(view.history.times_s[0]), clock.at(view.history.times_s[-1])
    closed: dict[str, list[str]] = {}
    for name, band in view.bands.items():
        if band.opens is None:
            closed.setdefault(band.why, []).append(name)
    for why in sorted(closed):
        yield told("no_safe_window", view.load.id, start, end, zone, case=why, work=tuple(closed[why]))
    for name, band in view.bands.items():
        if band.opens is not None and band.missing >= _AT_RISK:
            params: dict[str, Param] = {"work": (name,), "chance": band.missing}
            yield told("window_at_risk", view.load.id, start, end, zone, case=band.why, **params)
