"""Hours fit to wash, to lay the second colour and to seal, in the days the weather reaches."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import UTC

from slabtide.engine.humidity import dew_point_c
from slabtide.engine.pour import WeatherHour
from slabtide.engine.timeline import SLOT_NAMES, Slot, SlotName
from slabtide.engine.wind import wind_at_slab
from slabtide.engine.wording import degrees_span, drop

_MOST = 5
_LEAST_HOURS = 2
_WET_MM = 0.2
_CALM_KMH = 20.0  # at the slab (EST): above, spray drifts and the film skins
_DAYLIGHT_W_M2 = 20.0
_WORKDAY = range(7, 19)


@dataclass(frozen=True, slots=True)
class Needs:
    """What a piece of later work asks of the weather. Hours before and after without rain; air and surface
    between two temperatures; surface over the dew point now and for the next hours [K]; calm or not."""

    dry_before_h: int
    dry_after_h: int
    low_c: float
    high_c: float
    over_dew_k: float
    calm: bool


# 50 to 90 °F for air and surface, trade guidance; 5 °F over dew point, a coating rule from memory, not
# verified; hours without rain are settings (EST).
NEEDS: dict[SlotName, Needs] = {
    "wash": Needs(0, 0, 4.4, 45.0, 0.0, False),
    "colour": Needs(12, 12, 10.0, 32.0, 0.0, True),
    "seal": Needs(24, 24, 10.0, 32.0, 3.0, True),
}
_DEW_WATCH_H = 4


@dataclass(frozen=True, slots=True)
class Hour:
    """One weather hour as later work sees it; `surface_c` is the coolest of the loads."""

    weather: WeatherHour
    surface_c: float

    @property
    def over_dew_k(self) -> float:
        """How far the surface stands over the dew point [K]."""
        return self.surface_c - dew_point_c(self.weather.air_temp_c, self.weather.rh)


def find_slots(
    hours: Sequence[Hour], opens: Mapping[SlotName, int | None]
) -> dict[SlotName, tuple[Slot, ...]]:
    """The fit hours for each work, best first, no more than five.

    hours -- all weather hours, in order
    opens -- index of the first hour old enough for each work, None when never

    A slot needs daylight (or 7 to 19 o'clock where the weather tells of no sun) and two hours on end. The
    earlier, calmer and nearer to 20 °C, the better. Rain that the weather does not reach counts as none.
    """
    sunny = any(hour.weather.solar_w_m2 > 0.0 for hour in hours)
    slots: dict[SlotName, tuple[Slot, ...]] = {}
    for name in SLOT_NAMES:
        first = opens[name]
        if first is None:
            slots[name] = ()
            continue
        fit = [
            i >= first and _light(hours[i], sunny) and _fit(hours, i, NEEDS[name]) for i in range(len(hours))
        ]
        runs = [run for run in _runs(fit) if run[1] - run[0] >= _LEAST_HOURS]
        runs.sort(key=lambda run: _burden(hours, run, first))
        slots[name] = tuple(_slot(hours, run, NEEDS[name]) for run in runs[:_MOST])
    return slots


def _light(hour: Hour, sunny: bool) -> bool:
    return hour.weather.solar_w_m2 > _DAYLIGHT_W_M2 if sunny else hour.weather.at.hour in _WORKDAY


def _fit(hours: Sequence[Hour], i: int, needs: Needs) -> bool:
    hour = hours[i]
    weather = hour.weather
    near = hours[max(0, i - needs.dry_before_h) : i + needs.dry_after_h + 1]
    wind = wind_at_slab(weather.wind_kmh, weather.wind_height_m)
    return (
        needs.low_c <= weather.air_temp_c <= needs.high_c
        and needs.low_c <= hour.surface_c <= needs.high_c
        and all(other.weather.rain_mm < _WET_MM for other in near)
        and (not needs.calm or wind <= _CALM_KMH)
        and all(other.over_dew_k >= needs.over_dew_k for other in hours[i : i + _DEW_WATCH_H + 1])
    )


def _runs(fit: Sequence[bool]) -> list[tuple[int, int]]:
    """First and last index of each run of fit hours; a slot lasts from one to the other."""
    runs = []
    start: int | None = None
    for i, good in enumerate([*fit, False]):
        if good and start is None:
            start = i
        elif not good and start is not None:
            runs.append((start, i - 1))
            start = None
    return runs


def _burden(hours: Sequence[Hour], run: tuple[int, int], first: int) -> float:
    inside = hours[run[0] : run[1] + 1]
    away = sum(abs(hour.weather.air_temp_c - 20.0) for hour in inside) / len(inside)
    wind = sum(wind_at_slab(hour.weather.wind_kmh, hour.weather.wind_height_m) for hour in inside) / len(
        inside
    )
    return (run[0] - first) / 6.0 + away / 2.0 + wind / 4.0 - min(len(inside), 8) / 2.0


def _slot(hours: Sequence[Hour], run: tuple[int, int], needs: Needs) -> Slot:
    inside = hours[run[0] : run[1] + 1]
    airs = [hour.weather.air_temp_c for hour in inside]
    reason = f"Air {degrees_span(min(airs), max(airs))}"
    if needs.over_dew_k > 0.0:
        reason += f", surface {drop(min(hour.over_dew_k for hour in inside))} or more over dew point"
    if needs.dry_after_h:
        known = min(needs.dry_after_h, len(hours) - 1 - run[1])
        reason += f", no rain for {known} h after"
        reason += "" if known == needs.dry_after_h else " (the weather reaches no further)"
    starts, ends = inside[0].weather.at.astimezone(UTC), inside[-1].weather.at.astimezone(UTC)
    return Slot(starts, ends, reason + ".")
