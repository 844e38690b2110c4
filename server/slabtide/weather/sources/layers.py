"""From what a source gives, quantity by quantity, to hours; what it lacks is worked out where it can be."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime, timedelta
from itertools import pairwise

from slabtide.engine.pour import WeatherHour
from slabtide.engine.sun import clear_sky_w_m2, clouded_w_m2, cos_zenith
from slabtide.weather.sources.contract import Place, SourceError

LONGEST_BRIDGE_H = 3
HALF_CLOUDED = 0.5
WIND_HEIGHT_M = 10.0
_HOUR = timedelta(hours=1)
Layer = Mapping[datetime, float]


@dataclass(frozen=True, slots=True)
class Layers:
    """Each quantity by whole UTC hour, in our units. Sun at the hour; rain in the hour that begins then."""

    air_temp_c: Layer
    rh: Layer
    wind_kmh: Layer
    cloud: Layer = field(default_factory=dict)
    rain_mm: Layer = field(default_factory=dict)
    solar_w_m2: Layer = field(default_factory=dict)


def hours_of(layers: Layers, place: Place) -> tuple[tuple[WeatherHour, ...], tuple[str, ...]]:
    """The hours for which air, humidity and wind are known, and in words what had to be worked out.

    Gaps of up to 3 h are bridged by a straight line; longer ones stay gaps. Missing sun follows from the
    sun's height (Haurwitz 1945) and the cloud (Kasten and Czeplak 1980); missing cloud is taken as half;
    missing rain as none.
    Raises: SourceError when no hour is whole.
    """
    air, damp, wind = (bridged(layer) for layer in (layers.air_temp_c, layers.rh, layers.wind_kmh))
    clouds, suns = bridged(layers.cloud), bridged(layers.solar_w_m2)
    whole = sorted(set(air) & set(damp) & set(wind))
    if not whole:
        raise SourceError("gives no hour with air, humidity and wind")
    hours = []
    for at in whole:
        cloud = min(1.0, max(0.0, clouds.get(at, HALF_CLOUDED)))
        sun = suns.get(at)
        if sun is None:
            clear = clear_sky_w_m2(cos_zenith(at, place.latitude_deg, place.longitude_deg))
            sun = clouded_w_m2(clear, cloud)
        hours.append(
            WeatherHour(
                at=at,
                air_temp_c=round(air[at], 2),
                rh=round(min(1.0, max(0.0, damp[at])), 4),
                wind_kmh=round(max(0.0, wind[at]), 2),
                wind_height_m=WIND_HEIGHT_M,
                cloud=round(cloud, 3),
                solar_w_m2=round(min(1400.0, max(0.0, sun)), 1),
                rain_mm=round(layers.rain_mm.get(at, 0.0), 2),
            )
        )
    return tuple(hours), _derived(whole, clouds, suns)


def bridged(layer: Layer) -> dict[datetime, float]:
    """The layer with gaps of up to three hours filled on a straight line."""
    found = dict(layer)
    times = sorted(layer)
    for before, after in pairwise(times):
        missing = round((after - before) / _HOUR) - 1
        if 0 < missing <= LONGEST_BRIDGE_H:
            for step in range(1, missing + 1):
                part = step / (missing + 1)
                found[before + step * _HOUR] = (1 - part) * layer[before] + part * layer[after]
    return found


def _derived(whole: list[datetime], clouds: Layer, suns: Layer) -> tuple[str, ...]:
    said = []
    if any(at not in suns for at in whole):
        said.append("sun worked out from its height and the cloud")
    if any(at not in clouds for at in whole):
        said.append("cloud taken as half where it is not given")
    return tuple(said)
