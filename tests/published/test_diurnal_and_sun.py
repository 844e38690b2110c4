"""The day's curve and the sun against a published curve, a station's year and an astronomical library.

Source of the station: NREL TMY3, 723170 Greensboro NC, in the pvlib package (BSD-3).
"""

import csv
import importlib.resources
import math
from datetime import UTC, date, datetime, timedelta
from itertools import pairwise

import pandas as pd
import pvlib
import pytest

from slabtide.engine.diurnal import air_temp_by_day_c, hourly_from_day
from slabtide.engine.sun import clear_sky_w_m2, cos_zenith, sunrise_sunset

LATITUDE, LONGITUDE = 36.1, -79.95


@pytest.mark.parametrize(
    ("hour", "told"),
    [
        (3, 16.87),
        (6, 15.49),
        (9, 23.64),
        (12, 28.95),
        (14, 30.00),
        (16, 28.82),
        (18, 25.60),
        (21, 20.90),
        (24, 18.32),
    ],
)
def test_the_curve_of_parton_and_logan(hour: int, told: float) -> None:
    """Source: Parton and Logan (1981), air at 150 cm, worked by hand for 15 to 30 °C, sun 6:00 to 18:30."""
    assert hourly_from_day(15.0, 30.0, 15.0, 6.0, 18.5)[hour] == pytest.approx(told, abs=0.006)


def station_days() -> list[list[float]]:
    """Air temperature [°C] of each day's hours 1 to 24, local standard time."""
    path = importlib.resources.files("pvlib") / "data" / "723170TYA.CSV"
    rows = list(csv.DictReader(path.read_text(encoding="utf-8").splitlines()[1:]))
    temps = [float(row["Dry-bulb (C)"]) for row in rows]
    return [temps[i : i + 24] for i in range(0, len(temps), 24)]


def test_the_curve_follows_a_station_within_what_its_authors_found() -> None:
    """Tolerance: Parton and Logan (1981) report mean absolute errors of 1.20 to 2.64 °C."""
    days = station_days()
    assert len(days) == 365
    errors = []
    for index, (today, tomorrow) in enumerate(pairwise(days)):
        day = date(2001, 1, 1) + timedelta(days=index)
        if day.month != (day + timedelta(days=1)).month:
            continue  # months of a typical year come from different years
        midnight = datetime(day.year, day.month, day.day, 5, tzinfo=UTC)
        sun = [(t - midnight).total_seconds() / 3600 for t in sunrise_sunset(day, LATITUDE, LONGITUDE)]
        for hour in range(math.ceil(sun[0]), 25):
            told = air_temp_by_day_c(hour, min(today), max(today), min(tomorrow), *sun)
            errors.append(abs(told - today[hour - 1]))
    assert sum(errors) / len(errors) < 1.6


@pytest.mark.parametrize(
    ("latitude", "longitude"), [(36.1, -79.95), (47.6, -122.3), (-33.9, 151.2), (19.4, -99.1)]
)
def test_sunrise_and_sunset_within_two_minutes(latitude: float, longitude: float) -> None:
    """Source: SPA (Reda and Andreas 2004) by pvlib."""
    for month in range(1, 13):
        day = date(2026, month, 15)
        noon = pd.DatetimeIndex([pd.Timestamp(day, tz=f"Etc/GMT{-round(longitude / 15):+d}")])
        told = pvlib.solarposition.sun_rise_set_transit_spa(noon, latitude, longitude)
        for ours, name in zip(sunrise_sunset(day, latitude, longitude), ("sunrise", "sunset"), strict=True):
            assert abs(ours - told[name].iloc[0].floor("us").to_pydatetime()) < timedelta(minutes=2)


def test_the_suns_height_within_a_twentieth_of_a_degree() -> None:
    """Source: SPA by pvlib, without refraction."""
    times = pd.date_range("2026-01-01", "2026-12-31", freq="37h", tz="UTC")
    told = pvlib.solarposition.get_solarposition(times, LATITUDE, LONGITUDE)["zenith"]
    for moment, zenith in zip(times, told, strict=True):
        ours = math.degrees(math.acos(cos_zenith(moment.to_pydatetime(), LATITUDE, LONGITUDE)))
        assert ours == pytest.approx(zenith, abs=0.05)


@pytest.mark.parametrize("zenith", [0, 20, 45, 60, 75, 85])
def test_clear_sky_after_haurwitz(zenith: float) -> None:
    """Source: Haurwitz (1945) by pvlib. Within 0.1 W/m2."""
    told = float(pvlib.clearsky.haurwitz(pd.Series([float(zenith)]))["ghi"].iloc[0])
    assert clear_sky_w_m2(math.cos(math.radians(zenith))) == pytest.approx(told, abs=0.1)
