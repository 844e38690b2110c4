"""Where the sun stands and how much of it reaches the slab."""

import math
from datetime import UTC, date, datetime, timedelta

_EPOCH = datetime(2000, 1, 1, 12, tzinfo=UTC)
_HORIZON_DEG = 90.833  # refraction and the sun's own size, as the NOAA page has it


def declination_and_equation_of_time(at: datetime) -> tuple[float, float]:
    """Solar declination [rad] and equation of time [min] at a time with UTC offset, 1900 to 2100.

    Source: NOAA Global Monitoring Laboratory, solar calculation sheet (after Meeus, 1991).
    """
    century = ((at - _EPOCH).total_seconds() / 86_400.0) / 36_525.0
    mean_long = math.radians(280.46646 + century * (36_000.76983 + 0.0003032 * century))
    anomaly = math.radians(357.52911 + century * (35_999.05029 - 0.0001537 * century))
    eccentricity = 0.016708634 - century * (0.000042037 + 0.0000001267 * century)
    centre = (
        math.sin(anomaly) * (1.914602 - century * (0.004817 + 0.000014 * century))
        + math.sin(2.0 * anomaly) * (0.019993 - 0.000101 * century)
        + math.sin(3.0 * anomaly) * 0.000289
    )
    node = math.radians(125.04 - 1_934.136 * century)
    longitude = mean_long + math.radians(centre - 0.00569 - 0.00478 * math.sin(node))
    tilt = math.radians(23.4392911 - 0.0130042 * century + 0.00256 * math.cos(node))
    y = math.tan(tilt / 2.0) ** 2
    equation = (
        y * math.sin(2.0 * mean_long)
        - 2.0 * eccentricity * math.sin(anomaly)
        + 4.0 * eccentricity * y * math.sin(anomaly) * math.cos(2.0 * mean_long)
        - 0.5 * y * y * math.sin(4.0 * mean_long)
        - 1.25 * eccentricity * eccentricity * math.sin(2.0 * anomaly)
    )
    return math.asin(math.sin(tilt) * math.sin(longitude)), 4.0 * math.degrees(equation)


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
    Good to two minutes up to 60° of latitude. Source: NOAA, as above.
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
