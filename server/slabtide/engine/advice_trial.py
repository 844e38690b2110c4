"""One candidate hour worked out: what the crew and the concrete would go through."""

from dataclasses import dataclass, replace
from datetime import datetime, timedelta

from slabtide.engine.advice_limits import AdviceLimits
from slabtide.engine.advice_night import Night, is_light, night_after
from slabtide.engine.crew import crew_rate
from slabtide.engine.ensemble import quantiles
from slabtide.engine.heat_index import heat_index_c
from slabtide.engine.notices import Clock
from slabtide.engine.pace import legs_of
from slabtide.engine.pour import Pour
from slabtide.engine.race import Leg, chance_to_miss, run_race
from slabtide.engine.runs import Run, unlearned_runs

REACH_H = 38  # past the last placing: texturing, the saw, and the first night's cold
_SURFACE_H = 16  # how far heat is solved
_NIGHT = timedelta(hours=24)


@dataclass(frozen=True, slots=True)
class Trial:
    """What an hour comes to. Chance that the crew makes every load (or, with no crew told, that every load
    has a texturing window), should nothing spoil it; worst evaporation while any load is fresh; worst heat
    index while anyone works; rain on concrete that can still be textured, worst hour and whole, and from then
    until it has set; minutes of work without daylight; coldest air in the day after; warmest and coolest
    load; ground; when texturing is likely done; the first night."""

    chance_to_make: float
    has_crew: bool
    has_blanket: bool
    evaporation_kg_m2_h: float
    heat_index_c: float
    rain_mm_h: float
    rain_mm: float
    rain_to_set_mm: float
    dark_minutes: int
    coldest_air_c: float
    warmest_load_c: float
    coolest_load_c: float
    ground_temp_c: float
    work_until: datetime
    night: Night
    time_zone: str


def tried(pour: Pour, at: datetime, limits: AdviceLimits) -> Trial:
    """A pour already moved to its hour, worked out to the morning after."""
    clock = Clock(pour.weather.hourly[0].at)
    runs = unlearned_runs(_short(pour), at, clock)
    legs = legs_of(runs)
    chance, done_s = _race(pour, legs)
    begins = min(load.placed_from for load in pour.loads)
    fresh_until = clock.at(max(quantiles(leg.closes_s)[2] for leg in legs))
    work_until = clock.at(done_s)
    hourly = pour.weather.hourly
    fresh = [hour for hour in hourly if begins - timedelta(hours=1) < hour.at <= fresh_until]
    worked = [hour for hour in hourly if begins - timedelta(hours=1) < hour.at <= work_until]
    after = [hour.air_temp_c for hour in hourly if begins <= hour.at <= begins + _NIGHT]
    temps = [load.concrete_temp_c for load in pour.loads]
    night = night_after(pour, at, clock, done_s, limits)
    setting = [hour.rain_mm for hour in hourly if fresh_until < hour.at <= night.set_at]
    return Trial(
        chance_to_make=chance,
        has_crew=pour.texturing is not None,
        has_blanket=any(cover.kind == "blanket" for cover in pour.covers),
        evaporation_kg_m2_h=max(_evaporation(run, leg) for run, leg in _pairs(runs, legs)),
        heat_index_c=max(heat_index_c(hour.air_temp_c, hour.rh) for hour in worked),
        rain_mm_h=max(hour.rain_mm for hour in fresh),
        rain_mm=sum(hour.rain_mm for hour in fresh),
        rain_to_set_mm=sum(setting),
        dark_minutes=_dark_minutes(pour, begins, work_until),
        coldest_air_c=min(after),
        warmest_load_c=max(temps),
        coolest_load_c=min(temps),
        ground_temp_c=pour.slab.ground_temp_c,
        work_until=work_until,
        night=night,
        time_zone=pour.time_zone,
    )


def _short(pour: Pour) -> Pour:
    """The pour with weather only as far as the heat is solved."""
    until = max(load.placed_to for load in pour.loads) + timedelta(hours=_SURFACE_H)
    hours = tuple(hour for hour in pour.weather.hourly if hour.at <= until)
    return replace(pour, weather=replace(pour.weather, hourly=hours))


def _race(pour: Pour, legs: list[Leg]) -> tuple[float, float]:
    """Chance to make it [0..1], and when the work is likely done [s]."""
    if pour.texturing is None:
        count = len(legs[0].opens_s)
        open_in = sum(all(leg.opens_s[k] < leg.closes_s[k] for leg in legs) for k in range(count))
        return open_in / count, max(quantiles(leg.closes_s)[1] for leg in legs)
    passages = run_race(legs, crew_rate(pour.texturing), quantiles(legs[0].opens_s)[1])
    ends = [
        min(quantiles(p.finished_s)[1], quantiles(leg.closes_s)[1])
        for p, leg in zip(passages, legs, strict=True)
    ]
    return 1.0 - chance_to_miss(passages), max(ends)


def _pairs(runs: list[Run], legs: list[Leg]) -> list[tuple[Run, Leg]]:
    by_id = {leg.id: leg for leg in legs}
    return [(run, by_id[run.load.id]) for run in runs]


def _evaporation(run: Run, leg: Leg) -> float:
    """The worst loss from a wet surface until texturing likely closes [kg/m2/h]."""
    history, until = run.likely, quantiles(leg.closes_s)[1]
    series = zip(history.times_s, history.demand, strict=True)
    return max((demand for time, demand in series if time <= until), default=history.demand[0])


def _dark_minutes(pour: Pour, begins: datetime, ends: datetime) -> int:
    """Minutes from first placing to the end of texturing in hours without daylight."""
    hourly = pour.weather.hourly
    dark = timedelta(0)
    for hour in hourly:
        begun, ended = hour.at - timedelta(minutes=30), hour.at + timedelta(minutes=30)
        if begun < ends and ended > begins and not is_light(hourly, hour.at):
            dark += min(ended, ends) - max(begun, begins)
    return round(dark.total_seconds() / 60.0)
