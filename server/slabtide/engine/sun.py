"""Where the sun stands and how much of it reaches the slab."""

import math
from datetime import UTC, date, datetime, timedelta

_HORIZON_DEG = 90.833  # refraction and the sun's own size, as the NOAA page has it


def declination_and_equation_of_time(at: datetime) -> tuple[float, float]:
    """Solar declination [rad] and equation of time [min] at a time with UTC offset.

    Source: NOAA Global Monitoring Laboratory, "General Solar Position Calculations" (after Spencer 1971).
    """
    utc = at.astimezone(UTC)
    hour = utc.hour + utc.minute / 60.0 + utc.second / 3600.0
    g = 2.0 * math.pi / 365.0 * (utc.timetuple().tm_yday - 1 + (hour - 12.0) / 24.0)
    equation_min = 229.18 * (
        0.000075
        + 0.001868 * math.cos(g)
        - 0.032077 * math.sin(g)
        - 0.014615 * math.cos(2 * g)
        - 0.040849 * math.sin(2 * g)
    )
    declination = (
        0.006918
        - 0.399912 * math.cos(g)
        + 0.070257 * math.sin(g)
        - 0.006758 * math.cos(2 * g)
        + 0.000907 * math.sin(2 * g)
        - 0.002697 * math.cos(3 * g)
        + 0.00148 * math.sin(3 * g)
    )
    return declination, equation_min


def cos_zenith(at: datetime, latitude_deg: float, longitude_deg: float) -> float:
    """Cosine of the sun's zenith angle (negative at night); longitude east positive [deg].

    Source: NOAA, as above.
    """
    declination, equation_min = declination_and_equation_of_time(at)
    utc = at.astimezone(UTC)
    minutes = utc.hour * 60.0 + utc.minute + utc.second / 60.0 + equation_min + 4.0 * longitude_deg
    angle = math.radians(minutes / 4.0 - 180.0)
    latitude = math.radians(latitude_deg)
    return math.sin(latitude) * math.sin(declination) + math.cos(latitude) * math.cos(declination) * math.cos(
        angle
    )


def sunrise_sunset(day: date, latitude_deg: float, longitude_deg: float) -> tuple[datetime, datetime]:
    """Sunrise and sunset [UTC] of a day as that longitude counts days.

    Where the sun does not rise (or set) that day, both fall at solar noon (or half a day either side).
    Good to about two minutes up to 60° of latitude. Source: NOAA, as above.
    """
    noon = datetime(day.year, day.month, day.day, 12, tzinfo=UTC) - timedelta(minutes=4.0 * longitude_deg)
    declination, equation_min = declination_and_equation_of_time(noon)
    latitude = math.radians(latitude_deg)
    cosine = math.cos(math.radians(_HORIZON_DEG)) / (math.cos(latitude) * math.cos(declination))
    cosine -= math.tan(latitude) * math.tan(declination)
    half_day = timedelta(minutes=4.0 * math.degrees(math.acos(min(1.0, max(-1.0, cosine)))))
    solar_noon = noon - timedelta(minutes=equation_min)
    return solar_noon - half_day, solar_noon + half_day


def clear_sky_w_m2(cosine: float) -> float:
    """Sun on a level surface under a clear sky [W/m2] from the cosine of the zenith angle.

    Source: Haurwitz, B. (1945), J. Meteorology 2, with the exponent 0.059 (Reno et al. 2012, SAND2012-2389).

    >>> round(clear_sky_w_m2(0.8))
    816
    """
    return 1098.0 * cosine * math.exp(-0.059 / cosine) if cosine > 0.0 else 0.0


def clouded_w_m2(clear_w_m2: float, cloud: float) -> float:
    """What clouds leave of it [W/m2]; cloud cover [0..1].

    Source: Kasten, F. and Czeplak, G. (1980), Solar Energy 24:177-189: 1 - 0.75 n^3.4 (from memory, not
    verified).

    >>> round(clouded_w_m2(800.0, 1.0))
    200
    """
    return clear_w_m2 * (1.0 - 0.75 * math.pow(cloud, 3.4))
