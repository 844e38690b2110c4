"""Hours fit for a piece of later work in the days the weather reaches, and what is wrong with the others."""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from slabtide.engine.drying import DRY_KG_M2, Moisture
from slabtide.engine.humidity import dew_point_c
from slabtide.engine.pour import WeatherHour
from slabtide.engine.slots_needs import Needs
from slabtide.engine.timeline import Slot
from slabtide.engine.wind import wind_at_slab
from slabtide.engine.wording import degrees_span, drop

LEAST_HOURS = 2
MOST_SLOTS = 5
_WET_MM = 0.2
_DAYLIGHT_W_M2 = 20.0
_WORKDAY = range(7, 19)
_DEW_WATCH_H = 4
CODES = (
    "too_green",
    "not_yet",
    "recoat_early",
    "recoat_late",
    "rain",
    "rain_before",
    "rain_after",
    "damp",
    "near_dew",
    "surface_cold",
    "surface_hot",
    "air_cold",
    "air_hot",
    "wind",
    "dark",
    "short",
)
"""Why an hour is out, the weightiest first."""


@dataclass(frozen=True, slots=True)
class Hour:
    """One weather hour as later work sees it: the weather, and the surface of the coolest and the warmest of
    the loads [°C]."""

    weather: WeatherHour
    surface_c: float
    warmest_c: float
    light: bool
    wind_kmh: float
    over_dew_k: float


@dataclass(frozen=True, slots=True)
class Why:
    """One thing that keeps work from an hour: a code, how it is and what is asked (in the code's own unit),
    and a time that belongs to it."""

    code: str
    value: float | None = None
    limit: float | None = None
    at: datetime | None = None
    of: str | None = None


@dataclass(frozen=True, slots=True)
class HoursOut:
    """Hours on end that are out for the same reasons."""

    starts: datetime
    ends: datetime
    why: tuple[Why, ...]


@dataclass(frozen=True, slots=True)
class Gate:
    """When the work may start at all and must have begun: each a code and a time. A time of None never
    comes."""

    opens: tuple[tuple[str, datetime | None, str | None], ...]
    shuts: tuple[str, datetime] | None = None


def hours_of(
    hourly: Sequence[WeatherHour], coolest_c: Sequence[float], warmest_c: Sequence[float]
) -> tuple[Hour, ...]:
    """The weather hours with the surface beside them; light is daylight, or 7 to 19 o'clock by UTC offset of
    the entry where the weather tells of no sun at all."""
    sunny = any(hour.solar_w_m2 > 0.0 for hour in hourly)
    return tuple(
        Hour(
            weather=hour,
            surface_c=cool,
            warmest_c=warm,
            light=hour.solar_w_m2 > _DAYLIGHT_W_M2 if sunny else hour.at.hour in _WORKDAY,
            wind_kmh=wind_at_slab(hour.wind_kmh, hour.wind_height_m),
            over_dew_k=cool - dew_point_c(hour.air_temp_c, hour.rh),
        )
        for hour, cool, warm in zip(hourly, coolest_c, warmest_c, strict=True)
    )


def judge(
    hours: Sequence[Hour], water: Moisture, needs: Needs, gate: Gate, now: datetime
) -> tuple[tuple[Slot, ...], tuple[HoursOut, ...]]:
    """The slots of one piece of work, best first, no more than five; and every hour that is out, with why.

    From the first whole hour at or after `now` to the weather's end, an hour is either out or fit: fit when
    nothing is wrong at its start nor at its end, and it is part of two fit hours on end. The earlier, calmer
    and nearer to 20 °C, the better. Rain that the weather does not reach counts as none.
    """
    first = next((i for i, hour in enumerate(hours) if hour.weather.at >= now), len(hours))
    wrongs = [_wrong(hours, i, water, needs, gate) for i in range(first, len(hours))]
    spans: list[list[Why]] = [_joined(one, other) for one, other in pairwise(wrongs)]
    for start, end in list(_runs([not span for span in spans])):
        if end - start < LEAST_HOURS:
            for i in range(start, end):
                spans[i] = [Why("short", float(end - start), float(LEAST_HOURS))]
    runs = [(first + a, first + b) for a, b in _runs([not span for span in spans])]
    opened = _opened(hours, gate, first)
    runs.sort(key=lambda run: _burden(hours, run, opened))
    slots = tuple(_slot(hours, run, needs) for run in runs[:MOST_SLOTS])
    return slots, tuple(_out(hours[first:], spans))


def _opened(hours: Sequence[Hour], gate: Gate, first: int) -> int:
    latest = max((at or hours[-1].weather.at for _, at, _ in gate.opens), default=hours[0].weather.at)
    return next((i for i in range(first, len(hours)) if hours[i].weather.at >= latest), first)


def _wrong(hours: Sequence[Hour], i: int, water: Moisture, needs: Needs, gate: Gate) -> list[Why]:
    hour = hours[i]
    found = list(_gated(hour.weather.at, gate))
    if not hour.light:
        found.append(Why("dark"))
    if needs.dry and water.water_kg_m2[i] > DRY_KG_M2:
        found.append(_damp(hours, i, water))
    found += _temperatures(hour, needs)
    over, least = min(h.over_dew_k for h in hours[i : i + _DEW_WATCH_H + 1]), needs.value("over_dew_k")
    if least is not None and over < least:
        found.append(Why("near_dew", over, least))
    most = needs.value("wind_most_kmh")
    if most is not None and hour.wind_kmh > most:
        found.append(Why("wind", hour.wind_kmh, most))
    found += _rains(hours, i, needs)
    return found


def _gated(at: datetime, gate: Gate) -> Iterator[Why]:
    for code, opens, of in gate.opens:
        if opens is None or at < opens:
            yield Why(code, at=opens, of=of)
    if gate.shuts and at > gate.shuts[1]:
        yield Why(gate.shuts[0], at=gate.shuts[1])


def _damp(hours: Sequence[Hour], i: int, water: Moisture) -> Why:
    dry_s, cause = water.dry_at_s[i], water.cause[i]
    dry_at = None if math.isinf(dry_s) else _utc(hours[0]) + timedelta(seconds=dry_s)
    return Why("damp", at=dry_at, of=cause)


def _temperatures(hour: Hour, needs: Needs) -> Iterator[Why]:
    low, high, air = needs.value("low_c"), needs.value("high_c"), hour.weather.air_temp_c
    if low is not None:
        if air < low:
            yield Why("air_cold", air, low)
        if hour.surface_c < low:
            yield Why("surface_cold", hour.surface_c, low)
    if high is not None:
        if air > high:
            yield Why("air_hot", air, high)
        if hour.warmest_c > high:
            yield Why("surface_hot", hour.warmest_c, high)


def _rains(hours: Sequence[Hour], i: int, needs: Needs) -> Iterator[Why]:
    if hours[i].weather.rain_mm >= _WET_MM:
        yield Why("rain", hours[i].weather.rain_mm)
        return
    before = math.ceil(needs.value("dry_before_h") or 0)
    for other in reversed(hours[max(0, i - before) : i]):
        if other.weather.rain_mm >= _WET_MM:
            yield Why("rain_before", other.weather.rain_mm, float(before), other.weather.at)
            break
    hours_after = math.ceil(needs.value("dry_after_h") or 0)
    for other in hours[i + 1 : i + hours_after + 1]:
        if other.weather.rain_mm >= _WET_MM:
            yield Why("rain_after", other.weather.rain_mm, float(hours_after), other.weather.at)
            break


_WORST_IS_LEAST = ("air_cold", "surface_cold", "near_dew")


def _joined(one: Sequence[Why], other: Sequence[Why]) -> list[Why]:
    """All that is wrong at either end, each code once with its worst."""
    worst: dict[str, Why] = {}
    for why in (*one, *other):
        had = worst.get(why.code)
        worst[why.code] = why if had is None else _worse(had, why)
    return sorted(worst.values(), key=lambda why: CODES.index(why.code))


def _worse(one: Why, other: Why) -> Why:
    if one.value is not None and other.value is not None:
        least = one.code in _WORST_IS_LEAST
        return other if (other.value < one.value) == least and other.value != one.value else one
    return other if one.at is not None and (other.at is None or other.at > one.at) else one


def _out(hours: Sequence[Hour], spans: Sequence[list[Why]]) -> Iterator[HoursOut]:
    """Hours out, run together while the same codes hold for the same limits."""
    start = 0
    while start < len(spans):
        end, why = start + 1, spans[start]
        while end < len(spans) and [w.code for w in spans[end]] == [w.code for w in why]:
            why = _joined(why, spans[end])
            end += 1
        if why:
            yield HoursOut(_utc(hours[start]), _utc(hours[end]), tuple(why))
        start = end


def _utc(hour: Hour) -> datetime:
    return hour.weather.at.astimezone(UTC)


def _runs(fit: Sequence[bool]) -> Iterator[tuple[int, int]]:
    """First index of each run of true, and the index after its last."""
    start: int | None = None
    for i, good in enumerate([*fit, False]):
        if good and start is None:
            start = i
        elif not good and start is not None:
            yield start, i
            start = None


def _burden(hours: Sequence[Hour], run: tuple[int, int], first: int) -> float:
    inside = hours[run[0] : run[1] + 1]
    away = sum(abs(hour.weather.air_temp_c - 20.0) for hour in inside) / len(inside)
    wind = sum(hour.wind_kmh for hour in inside) / len(inside)
    return (run[0] - first) / 6.0 + away / 2.0 + wind / 4.0 - min(len(inside), 8) / 2.0


def _slot(hours: Sequence[Hour], run: tuple[int, int], needs: Needs) -> Slot:
    inside = hours[run[0] : run[1] + 1]
    airs = [hour.weather.air_temp_c for hour in inside]
    over, wind = min(hour.over_dew_k for hour in inside), max(hour.wind_kmh for hour in inside)
    wanted = math.ceil(needs.value("dry_after_h") or 0)
    known = min(wanted, len(hours) - 1 - run[1])
    reason = f"Air {degrees_span(min(airs), max(airs))}"
    if needs.value("over_dew_k"):
        reason += f", surface {drop(over)} or more over dew point"
    if wanted:
        reason += f", no rain for {known} h after"
        reason += "" if known == wanted else " (the weather reaches no further)"
    return Slot(
        starts=_utc(inside[0]),
        ends=_utc(inside[-1]),
        reason=reason + ".",
        air_c=(min(airs), max(airs)),
        over_dew_k=over,
        wind_kmh=wind,
        dry_after_h=(known, wanted),
    )
