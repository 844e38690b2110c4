"""Pours through a typical year: the hourly weather of Greensboro, North Carolina (TMY3 723170, by pvlib)."""

from datetime import date, timedelta
from functools import cache
from pathlib import Path

import pvlib

from slabtide.engine.pour import Load, Pour, Saw, SawKind, Slab, Weather, WeatherHour
from slabtide.weather.tmy3 import read_tmy3

STATION = "723170TYA.CSV"
DAYS = range(2, 358)  # a day of weather before each pour, six after


@cache
def year() -> tuple[WeatherHour, ...]:
    """The typical year's hours, from the first of January in standard time."""
    text = (Path(pvlib.__file__).parent / "data" / STATION).read_text(encoding="latin-1")
    return tuple(read_tmy3(text, date(2026, 1, 1), 365)[1].hours)


def pour_on(day: int, kind: SawKind = "conventional", begins_h: int = 8, thickness_m: float = 0.115) -> Pour:
    """One load on a day of the year, counted from 0: concrete 4 K over the air, held to 12 to 35 °C as a
    plant would, on 50 mm of foam over ground as warm as the last day's air."""
    hours = year()
    weather = hours[24 * day : 24 * (day + 6)]
    begins = weather[0].at + timedelta(hours=begins_h)
    before = [hour.air_temp_c for hour in hours[24 * (day - 1) : 24 * day]]
    ground_c = min(25.0, max(2.0, sum(before) / len(before)))
    concrete_c = min(35.0, max(12.0, weather[begins_h].air_temp_c + 4.0))
    load = Load("1", begins - timedelta(minutes=30), begins, begins + timedelta(minutes=25), concrete_c, 28.0)
    return Pour(
        time_zone="America/New_York",
        slab=Slab(28.0, thickness_m, 1.7, ground_c, 0.7, 3.6),
        loads=(load,),
        weather=Weather(weather),
        saw=Saw(kind, 20.0, 1.0),
    )
