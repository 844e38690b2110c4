"""The weather over the slab, at the times the heat balance asks for, in one of its likely branches."""

import math
from collections.abc import Sequence
from datetime import UTC, datetime
from typing import NamedTuple

from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.maturity import KELVIN
from slabtide.engine.pour import WeatherHour
from slabtide.engine.sky import (
    CONCRETE_EMISSIVITY,
    STEFAN_BOLTZMANN,
    convection_w_m2_k,
    sky_emissivity,
)
from slabtide.engine.wind import wind_at_slab

# How far a forecast is off, one standard deviation (EST): air now and per day of lead, share of sun.
_AIR_SD_C, _AIR_SD_C_PER_DAY, _AIR_SD_MOST_C = 0.7, 0.4, 2.5
_SUN_SD = 0.15
# Share of its own sd by which a branch moves air and sun (EST): the two err together only in part, and the
# wind errs too. Set so that branches spread the clocks as weather that wanders does, see docs/odds.md.
_TOGETHER = 0.9


class Forcing(NamedTuple):
    """What the weather does to the surface at one time: heat that comes whatever the surface does [W/m2],
    convection [W/m2·K], air [°C], vapour pressure [kPa], wind at the slab [km/h]."""

    gain_w_m2: float
    convection_w_m2_k: float
    air_temp_c: float
    vapour_kpa: float
    wind_kmh: float


def air_temp_sd_c(lead_h: float) -> float:
    """Standard deviation of the air temperature [°C] told `lead_h` hours ahead (EST).

    Hours already past count as measured, with half the error of the present hour.

    >>> air_temp_sd_c(24.0)
    1.1
    """
    if lead_h < 0.0:
        return _AIR_SD_C / 2.0
    return min(_AIR_SD_MOST_C, _AIR_SD_C + _AIR_SD_C_PER_DAY * lead_h / 24.0)


def hourly_forcing(
    hourly: Sequence[WeatherHour], absorptivity: float, at: datetime, branch: float, shade: float = 0.0
) -> tuple[Forcing, ...]:
    """The forcing at each weather hour, with the weather `branch` standard deviations warmer and sunnier.

    at -- now; leads count from its whole hour, so that heat asked for again within the hour is the same
    shade -- the share of the sun kept off where an hour doesn't tell its own; sky and wind stay as they are

    Vapour pressure stays as told unless the branch's air can't hold it.
    """
    now = at.astimezone(UTC)  # times of one zone subtract by the wall clock, which jumps
    now = now.replace(minute=0, second=0, microsecond=0)
    return tuple(
        _forcing(hour, absorptivity * (1.0 - (shade if hour.shade is None else hour.shade)), now, branch)
        for hour in hourly
    )


def _forcing(hour: WeatherHour, absorptivity: float, at: datetime, branch: float) -> Forcing:
    lead_h = (hour.at - at).total_seconds() / 3600.0
    air = hour.air_temp_c + branch * _TOGETHER * air_temp_sd_c(lead_h)
    told = hour.rh * saturation_vapour_pressure_kpa(hour.air_temp_c)
    vapour = min(told, saturation_vapour_pressure_kpa(air))
    sun_sd = _SUN_SD if lead_h >= 0.0 else _SUN_SD / 2.0
    sun = hour.solar_w_m2 * max(0.0, 1.0 + branch * _TOGETHER * sun_sd)
    sky = sky_emissivity(air, vapour, hour.cloud) * STEFAN_BOLTZMANN * math.pow(air + KELVIN, 4)
    wind = wind_at_slab(hour.wind_kmh, hour.wind_height_m)
    return Forcing(
        gain_w_m2=absorptivity * sun + CONCRETE_EMISSIVITY * sky,
        convection_w_m2_k=convection_w_m2_k(wind / 3.6),
        air_temp_c=air,
        vapour_kpa=vapour,
        wind_kmh=wind,
    )


def forcing_between(before: Forcing, after: Forcing, share: float) -> Forcing:
    """The forcing a share [0..1] of the way from one hour to the next."""
    rest = 1.0 - share
    gain, convection, air, vapour, wind = before
    gain_after, convection_after, air_after, vapour_after, wind_after = after
    return Forcing(
        rest * gain + share * gain_after,
        rest * convection + share * convection_after,
        rest * air + share * air_after,
        rest * vapour + share * vapour_after,
        rest * wind + share * wind_after,
    )
