"""The first night of a trial: the saw window and the hours it falls in, the surface's drop, frost.

One heat history per load, in the likely weather; first and last load stand for those between.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from zoneinfo import ZoneInfo

from slabtide.engine.advice_limits import AdviceLimits
from slabtide.engine.clocks import time_at
from slabtide.engine.cracking import cracks_at
from slabtide.engine.history import History
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Load, Pour, SawKind, WeatherHour
from slabtide.engine.runs import likely_history, mix_of
from slabtide.engine.saw import STRESS_SHARE, latest_cut_h, ravelling_limit_mpa
from slabtide.engine.saw_practice import drops_at, load_practice
from slabtide.engine.setting import final_set_h
from slabtide.engine.spoiling import freezes_at
from slabtide.engine.strength import age_at_strength_h

_HALF_HOUR = timedelta(minutes=30)
_STEP = timedelta(minutes=15)
_DAYLIGHT_W_M2 = 20.0
_LEAST_SAW_S = 2 * 3600.0  # past its opening the saw counts as open so long, whatever practice says


@dataclass(frozen=True, slots=True)
class Night:
    """What follows texturing: when all loads have set, when all can be sawn and the first must be (None =
    beyond the weather), minutes the cut takes; minutes of that window at working hours, and of those in
    daylight; when the first surface has dropped 15 °F, when one freezes too young (None = it doesn't)."""

    set_at: datetime
    saw_opens: datetime | None
    saw_closes: datetime | None
    cut_minutes: float
    workable_minutes: int
    light_minutes: int
    drop_at: datetime | None
    freezes_at: datetime | None


@dataclass(frozen=True, slots=True)
class _LoadNight:
    set_s: float
    opens_s: float
    closes_s: float
    drop_s: float
    freezes_s: float


def night_after(pour: Pour, at: datetime, clock: Clock, finished_s: float, limits: AdviceLimits) -> Night:
    """The first night of a pour whose texturing is likely done at a time [s from the first weather hour]."""
    ends = {pour.loads[0].id: pour.loads[0], pour.loads[-1].id: pour.loads[-1]}
    loads = [_load_night(pour, load, at, clock, finished_s) for load in ends.values()]
    opens_s = max(load.opens_s for load in loads)
    closes_s = min(load.closes_s for load in loads)
    opens = None if math.isinf(opens_s) else clock.at(opens_s)
    closes = None if opens is None or math.isinf(closes_s) else clock.at(closes_s)
    steps = list(_steps(opens, closes, ZoneInfo(pour.time_zone), limits))
    light = sum(is_light(pour.weather.hourly, step) for step in steps)
    minutes = round(_STEP.total_seconds() / 60.0)
    return Night(
        set_at=clock.at(max(load.set_s for load in loads)),
        saw_opens=opens,
        saw_closes=closes,
        cut_minutes=pour.saw.length_m / pour.saw.rate_m_per_min if pour.saw else 0.0,
        workable_minutes=minutes * len(steps),
        light_minutes=minutes * light,
        drop_at=_first([load.drop_s for load in loads], clock),
        freezes_at=_first([load.freezes_s for load in loads], clock),
    )


def is_light(hourly: Sequence[WeatherHour], at: datetime) -> bool:
    """Whether there is daylight, by the sun of the nearest hour; by the clock where no sun is told at all."""
    nearest = min(hourly, key=lambda hour: abs(hour.at - at))
    if any(hour.solar_w_m2 > 0.0 for hour in hourly):
        return nearest.solar_w_m2 > _DAYLIGHT_W_M2
    return nearest.at.hour in range(6, 20)


def _load_night(pour: Pour, load: Load, at: datetime, clock: Clock, finished_s: float) -> _LoadNight:
    history = likely_history(pour, load, at, clock)
    own = replace(pour, mix=mix_of(pour, load))
    mix, factor = own.mix, own.mix.set_factor
    set_s = time_at(history.times_s, history.mean_age_h, final_set_h(mix) * factor)
    drop_s = math.inf if math.isinf(set_s) else drops_at(history, set_s)
    opens_s, closes_s = _saw(own, history, factor)
    practice_s = load_practice(own, load, finished_s, drop_s).closes_s
    safe_s = min(closes_s, max(practice_s, opens_s + _LEAST_SAW_S))
    set_s = min(set_s, float(history.times_s[-1]))
    return _LoadNight(set_s, opens_s, safe_s, drop_s, freezes_at(history, own, factor))


def _saw(pour: Pour, history: History, factor: float) -> tuple[float, float]:
    kind: SawKind = pour.saw.kind if pour.saw else "conventional"
    mix = pour.mix
    limit = ravelling_limit_mpa(mix.aggregate, kind)
    opens_h = age_at_strength_h(limit, mix.design_strength_mpa) * mix.strength_slowness
    latest_h = latest_cut_h(kind, opens_h)
    opens_s = time_at(history.times_s, history.mean_age_h, opens_h * factor)
    latest_s = time_at(history.times_s, history.mean_age_h, latest_h * factor)
    return opens_s, min(latest_s, cracks_at(history, pour, factor, [STRESS_SHARE])[0])


def _steps(
    opens: datetime | None, closes: datetime | None, zone: ZoneInfo, limits: AdviceLimits
) -> Iterator[datetime]:
    """The quarter hours of the saw window that fall in working hours."""
    if opens is None or closes is None:
        return
    step = opens
    while step + _STEP <= closes:
        local = step.astimezone(zone)
        if limits.work_from_h <= local.hour + local.minute / 60.0 < limits.work_to_h:
            yield step
        step += _STEP


def _first(seconds: Sequence[float], clock: Clock) -> datetime | None:
    first = min(seconds)
    return None if math.isinf(first) else clock.at(first)
