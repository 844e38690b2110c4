"""What to watch for, in plain trade words, each with a stable code."""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from slabtide.engine.bleeding import outruns_bleeding
from slabtide.engine.evaporation import PRECAUTION_KG_M2_H
from slabtide.engine.heat_index import DANGER_C, EXTREME_CAUTION_C, heat_index_c
from slabtide.engine.history import HORIZON_S, History
from slabtide.engine.pour import Load, Pour
from slabtide.engine.saw_practice import SURFACE_DROP_K
from slabtide.engine.timeline import Notice, WindowName
from slabtide.engine.windows import Band
from slabtide.engine.wording import WORK, chances, degrees, drop, rain, water_loss

COLD_CONCRETE_C = 12.8  # ACI 306: 55 °F as placed, slabs under 12 in
HOT_CONCRETE_C = 35.0  # ACI 305.1: 95 °F at discharge
COLD_AIR_C = 4.4  # ACI 306: 40 °F
_WET_MM = 0.2
_AT_RISK = 0.10
_COLD_WATCH = timedelta(hours=48)


@dataclass(frozen=True, slots=True)
class LoadView:
    """One load as the notices see it: its likely history, its windows, and [s from the weather's first hour]
    final set (or the history's end), first frost that harms it, first deep drop of its surface."""

    load: Load
    history: History
    bands: dict[WindowName, Band]
    final_set_s: float
    frost_s: float | None
    frost_likely: bool
    drop_s: float | None


class Clock:
    """Seconds from the weather's first hour as times."""

    def __init__(self, anchor: datetime) -> None:
        self.anchor = anchor.astimezone(UTC)

    def at(self, seconds: float) -> datetime:
        """The time, on the whole second."""
        return self.anchor + timedelta(seconds=round(seconds))

    def seconds(self, time: datetime) -> float:
        """Seconds to a time."""
        return (time - self.anchor).total_seconds()


def all_notices(pour: Pour, views: Sequence[LoadView], clock: Clock) -> tuple[Notice, ...]:
    """Every notice for a pour: the pour's own first, then load by load, in order of time."""
    whole = [*_weather_notices(pour, views, clock), *_crew_notices(pour, views, clock)]
    for view in views:
        found = [
            *_ticket_notices(pour, view),
            *_surface_notices(pour, view, clock),
            *_later_notices(view, clock),
        ]
        found += _window_notices(view, clock)
        whole += sorted(found, key=lambda notice: notice.starts)
    return tuple(whole)


def _weather_notices(pour: Pour, views: Sequence[LoadView], clock: Clock) -> Iterator[Notice]:
    hourly = pour.weather.hourly
    begins = min(view.load.placed_from for view in views).astimezone(UTC)
    ends = max(clock.at(view.final_set_s) for view in views)
    weather_ends = hourly[-1].at.astimezone(UTC)
    if any(clock.at(view.history.times_s[0] + HORIZON_S) > weather_ends for view in views):
        text = (
            "The weather ends here; nothing later is worked out. Get a longer forecast before the saw is due."
        )
        yield Notice("weather_ends", None, weather_ends, weather_ends, text)
    if all(hour.solar_w_m2 == 0.0 for hour in hourly):
        text = "The weather tells of no sun. In sun the slab runs warmer and sooner than shown."
        yield Notice("no_sun_given", None, begins, weather_ends, text)
    for start, end in _spells([(hour.at, hour.rain_mm >= _WET_MM) for hour in hourly]):
        if start < ends and end + timedelta(hours=1) > begins:
            most = sum(hour.rain_mm for hour in hourly if start <= hour.at <= end)
            text = f"Rain, {rain(most)}, before the slab has set. Have covers at hand or move the pour."
            yield Notice("rain", None, start, end + timedelta(hours=1), text)
    watched = [(h.at, h.air_temp_c < COLD_AIR_C) for h in hourly if begins <= h.at <= begins + _COLD_WATCH]
    for start, end in _spells(watched)[:1]:
        text = f"Air below {degrees(COLD_AIR_C)} while the slab is young: covers at hand, no frozen base."
        yield Notice("cold_air", None, start, end, text)
    if pour.slab.ground_temp_c <= 0.0:
        yield Notice(
            "frozen_ground", None, begins, begins, "The ground is frozen. Never place on frozen ground."
        )


def _crew_notices(pour: Pour, views: Sequence[LoadView], clock: Clock) -> Iterator[Notice]:
    begins = min(view.load.placed_from for view in views).astimezone(UTC)
    ends = max(clock.at(view.final_set_s) for view in views)
    worked = [hour for hour in pour.weather.hourly if begins - timedelta(hours=1) < hour.at <= ends]
    felt = [(hour.at, heat_index_c(hour.air_temp_c, hour.rh)) for hour in worked]
    for start, end in _spells([(at, index >= EXTREME_CAUTION_C) for at, index in felt]):
        peak = max(index for at, index in felt if start <= at <= end)
        word = "danger" if peak >= DANGER_C else "extreme caution"
        text = f"Feels like {degrees(peak)} in the shade, {word}; sun adds more. Water, shade, turns."
        yield Notice("heat_stress", None, start, end + timedelta(hours=1), text)


def _ticket_notices(pour: Pour, view: LoadView) -> Iterator[Notice]:
    load = view.load
    start, end = load.placed_from.astimezone(UTC), load.placed_to.astimezone(UTC)
    if load.concrete_temp_c < COLD_CONCRETE_C:
        text = f"Concrete at {degrees(load.concrete_temp_c)}, under {degrees(COLD_CONCRETE_C)}: slow set."
        yield Notice("cold_concrete", load.id, start, end, text)
    if load.concrete_temp_c >= HOT_CONCRETE_C:
        text = f"Concrete at {degrees(load.concrete_temp_c)}, limit {degrees(HOT_CONCRETE_C)}: short window."
        yield Notice("hot_concrete", load.id, start, end, text)


def _surface_notices(pour: Pour, view: LoadView, clock: Clock) -> Iterator[Notice]:
    history = view.history
    fresh = [
        (time, demand)
        for time, demand in zip(history.times_s, history.demand, strict=True)
        if time <= view.final_set_s
    ]

    def spells(test: Callable[[float], bool]) -> list[tuple[datetime, datetime, float]]:
        found = _spells([(clock.at(time), test(demand)) for time, demand in fresh])
        return [(a, b, max(d for t, d in fresh if a <= clock.at(t) <= b)) for a, b in found]

    for start, end, most in spells(lambda demand: demand >= PRECAUTION_KG_M2_H):
        text = f"A wet surface would lose {water_loss(most)}. Shade it, break the wind, fog or cover it."
        yield Notice("evaporation_high", view.load.id, start, end, text)
    early = spells(lambda demand: outruns_bleeding(demand, pour.mix.bleed_share))
    dry_s = history.film_dry_s
    if early and dry_s is not None and dry_s <= history.times_s[0] + 1800:
        start = early[0][0]
        text = "It dries as fast as it bleeds: no sheen to go by, a skin may form. Test with a boot."
        yield Notice("crusting", view.load.id, start, early[0][1], text)


def _later_notices(view: LoadView, clock: Clock) -> Iterator[Notice]:
    end = clock.at(view.history.times_s[-1])
    if view.frost_s is not None:
        turn = "would freeze" if view.frost_likely else "could freeze, should it turn colder,"
        text = f"The surface {turn} before it can bear it. Do not pour, or keep it warm under blankets."
        yield Notice("freezing", view.load.id, clock.at(view.frost_s), end, text)
    saw = view.bands["saw"]
    if view.drop_s is not None and (saw.closes is None or view.drop_s <= saw.closes[2]):
        text = (
            f"First night: by now the surface is {drop(SURFACE_DROP_K)} under its peak. Practice saws before."
        )
        if saw.opens is None or view.drop_s < saw.opens[1]:
            text += " A plain saw is likely too late: early-entry saw, tooled joints, or blankets."
        else:
            text += " Cut as soon as it holds, or lay blankets before it cools."
        yield Notice("first_night_drop", view.load.id, clock.at(view.drop_s), clock.at(view.drop_s), text)


_WHY = {
    "late": "it does not get there in the time the weather covers",
    "frost": "it would freeze first",
    "rain": "it would be rained on while fresh; move the pour, or keep it under cover",
    "drying": "it would dry too fast to work; shade it, break the wind, or pour at a cooler hour",
    "shut": "by the time it may start it is already too late",
}


def _window_notices(view: LoadView, clock: Clock) -> Iterator[Notice]:
    start, end = clock.at(view.history.times_s[0]), clock.at(view.history.times_s[-1])
    for why, reason in _WHY.items():
        closed = [name for name, band in view.bands.items() if band.opens is None and band.why == why]
        if closed:
            text = f"No safe window for {', '.join(WORK[name] for name in closed)}: {reason}."
            text += " Tool the joints or use an early-entry saw." if "saw" in closed else ""
            yield Notice("no_safe_window", view.load.id, start, end, text)
    for name, band in view.bands.items():
        if band.opens is not None and band.missing >= _AT_RISK:
            text = f"There may be no window for {WORK[name]}, {chances(band.missing)}: {_WHY[band.why]}."
            yield Notice("window_at_risk", view.load.id, start, end, text)


def _spells(series: Sequence[tuple[datetime, bool]]) -> list[tuple[datetime, datetime]]:
    """First and last time of each unbroken run of true."""
    spells: list[tuple[datetime, datetime]] = []
    running = False
    for at, holds in series:
        if holds:
            start = spells.pop()[0] if running else at
            spells.append((start.astimezone(UTC), at.astimezone(UTC)))
        running = holds
    return spells
