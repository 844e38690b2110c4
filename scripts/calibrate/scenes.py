"""Pours as they really went: weather, concrete, and what the forecast was told of either."""

import math
import random
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from statistics import NormalDist

from slabtide.engine.forcing import air_temp_sd_c
from slabtide.engine.pour import Load, Mix, Pour, Slab, Weather, WeatherHour

MIDNIGHT = datetime(2026, 6, 4, 5, tzinfo=UTC)
_AIR_MEMORY_H, _SUN_MEMORY_H, _WIND_MEMORY_H = 24.0, 6.0, 6.0
_SUN_SD, _WIND_SD = 0.15, 0.30
_SUN_WITH_AIR = 0.3  # correlation: clearer than told is warmer than told, some of the time
_MEASURED_SHARE = 0.5  # of the error of the present hour is left once an hour is past
_LOAD_SPREAD_SD = 0.10


@dataclass(frozen=True, slots=True)
class Scene:
    """One pour as it really went. `pour` holds the true weather; `factors` the true set factor per load;
    the three error series are those of the forecasts made of it, one value an hour, sd 1."""

    pour: Pour
    factors: tuple[float, ...]
    air_errors: tuple[float, ...]
    sun_errors: tuple[float, ...]
    wind_errors: tuple[float, ...]
    seed: int

    def told(self, at: datetime) -> Pour:
        """The pour as the forecast at a time knows it: hours to come with a forecast's error, past ones with
        half of the present hour's."""
        hours = tuple(self._told_hour(i, hour, at) for i, hour in enumerate(self.pour.weather.hourly))
        return replace(self.pour, weather=Weather(hours))

    def _told_hour(self, i: int, hour: WeatherHour, at: datetime) -> WeatherHour:
        lead_h = (hour.at - at).total_seconds() / 3600.0
        past = _MEASURED_SHARE if lead_h < 0.0 else 1.0
        air_c = hour.air_temp_c - air_temp_sd_c(lead_h) * self.air_errors[i]
        sun = hour.solar_w_m2 * max(0.0, 1.0 - past * _SUN_SD * self.sun_errors[i])
        wind = hour.wind_kmh * math.exp(-past * _WIND_SD * self.wind_errors[i])
        return replace(hour, air_temp_c=air_c, solar_w_m2=sun, wind_kmh=wind)


def scenes(count: int, seed: int, loads: int = 2, hours: int = 60) -> list[Scene]:
    """So many pours, the same ones for the same seed. Set factors are drawn in strata, so that few pours
    already stand for many."""
    draw = random.Random(seed)
    mixes = _strata(draw, count)
    own = [_strata(draw, count) for _ in range(loads)]
    return [_scene(draw, mixes[i], [z[i] for z in own], hours, seed * 100_000 + i) for i in range(count)]


def _strata(draw: random.Random, count: int) -> list[float]:
    """Standard normal deviates, one from each of `count` strata, shuffled."""
    values = [_inverse_normal((k + draw.random()) / count) for k in range(count)]
    draw.shuffle(values)
    return values


def _inverse_normal(share: float) -> float:
    return NormalDist().inv_cdf(min(max(share, 1e-9), 1.0 - 1e-9))


def _scene(draw: random.Random, mix_z: float, own_z: list[float], hours: int, seed: int) -> Scene:
    mix = Mix()
    mean_c, swing_c = draw.uniform(8.0, 29.0), draw.uniform(3.0, 8.0)
    rh, wind, cloud = draw.uniform(0.4, 0.85), draw.uniform(2.0, 20.0), draw.uniform(0.0, 0.8)
    sun = draw.uniform(300.0, 900.0)
    begins_h = draw.uniform(6.5, 10.0)

    def hour(i: int) -> WeatherHour:
        day = math.cos((i % 24 - 15) * math.pi / 12.0)
        up = max(0.0, math.sin((i % 24 - 6) * math.pi / 14.0)) if 6 <= i % 24 <= 20 else 0.0
        breeze = wind * (0.8 + 0.3 * day)
        air = mean_c + swing_c * day
        return WeatherHour(MIDNIGHT + timedelta(hours=i), air, rh, breeze, 10.0, cloud, up * sun)

    air_at_start = mean_c + swing_c * math.cos((begins_h - 15) * math.pi / 12.0)
    concrete_c = min(36.0, max(10.0, air_at_start + draw.uniform(0.0, 6.0)))
    loads = []
    for k in range(len(own_z)):
        placed = MIDNIGHT + timedelta(minutes=round(60 * begins_h) + 40 * k)
        batched = placed - timedelta(minutes=30)
        loads.append(Load(str(k + 1), batched, placed, placed + timedelta(minutes=25), concrete_c, 24.0))
    area = 24.0 * len(loads)
    slab = Slab(area, draw.uniform(0.10, 0.14), draw.choice([0.0, 0.9]), draw.uniform(8, 18), 0.7, 6.0)
    pour = Pour("America/Chicago", slab, tuple(loads), Weather(tuple(hour(i) for i in range(hours))), mix)
    shared = math.sqrt(mix.set_factor_sd**2 - _LOAD_SPREAD_SD**2)
    factors = tuple(mix.set_factor * math.exp(shared * mix_z + _LOAD_SPREAD_SD * z) for z in own_z)
    air, sky = _wandering(draw, hours, _AIR_MEMORY_H), _wandering(draw, hours, _SUN_MEMORY_H)
    alone = math.sqrt(1.0 - _SUN_WITH_AIR**2)
    return Scene(
        pour,
        factors,
        air,
        tuple(_SUN_WITH_AIR * a + alone * b for a, b in zip(air, sky, strict=True)),
        _wandering(draw, hours, _WIND_MEMORY_H),
        seed,
    )


def _wandering(draw: random.Random, hours: int, memory_h: float) -> tuple[float, ...]:
    """An error of sd 1 that forgets itself with a memory (first-order autoregression)."""
    keep = math.exp(-1.0 / memory_h)
    value, values = draw.gauss(0.0, 1.0), []
    for _ in range(hours):
        values.append(value)
        value = keep * value + math.sqrt(1.0 - keep * keep) * draw.gauss(0.0, 1.0)
    return tuple(values)
