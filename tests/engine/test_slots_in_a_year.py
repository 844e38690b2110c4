"""Later work through the typical year of Greensboro (TMY3), judged by the weather it was told."""

import math
from dataclasses import replace
from datetime import timedelta
from functools import cache

import psychrolib
from tests.engine.year import pour_on

from slabtide.engine import forecast
from slabtide.engine.days_ahead import DaysAhead
from slabtide.engine.later import Done, Later, Product
from slabtide.engine.pour import Pour

psychrolib.SetUnitSystem(psychrolib.SI)
DAYS = range(3, 357, 12)
WASHED_H = 34  # ten in the morning of the day after the pour


@cache
def washed(day: int) -> tuple[Pour, DaysAhead]:
    """A pour at eight, washed next morning, with a sealer that may go on after two days."""
    pour = pour_on(day)
    at = pour.weather.hourly[WASHED_H].at
    later = Later({"seal": Product(least_age_h=48)}, Done(washes=(at,)))
    told = replace(pour, later=later)
    return told, forecast(told, at + timedelta(minutes=1)).days


def test_every_sealing_slot_stands_over_ashraes_dew_point_and_clear_of_rain() -> None:
    """Source: dew point by PsychroLib (ASHRAE 2017). The air is the least that a surface in daylight has."""
    found = 0
    for day in DAYS:
        pour, days = washed(day)
        hourly = pour.weather.hourly
        for work in (one for one in days.works if one.work == "seal"):
            for slot in work.slots:
                found += 1
                inside = [hour for hour in hourly if slot.starts <= hour.at <= slot.ends]
                near = [
                    hour
                    for hour in hourly
                    if slot.starts - timedelta(hours=24) <= hour.at <= slot.ends + timedelta(hours=24)
                ]
                assert all(hour.rain_mm < 0.2 for hour in near)
                assert all(10.0 <= hour.air_temp_c <= 32.0 and hour.solar_w_m2 > 20.0 for hour in inside)
                dew = max(psychrolib.GetTDewPointFromRelHum(h.air_temp_c, max(h.rh, 0.01)) for h in inside)
                assert slot.over_dew_k >= 3.0
                assert max(h.air_temp_c for h in inside) > dew
    assert found > 20


def test_a_washed_slab_dries_within_days_in_summer_faster_than_in_winter() -> None:
    waits: dict[str, list[float]] = {"summer": [], "winter": []}
    for day in DAYS:
        pour, days = washed(day)
        washed_at = pour.weather.hourly[WASHED_H].at
        likely = days.drying.dry_at[1]
        hours = math.inf if likely is None else (likely - washed_at) / timedelta(hours=1)
        if 150 <= day < 240:
            waits["summer"].append(hours)
        elif day < 60 or day >= 330:
            waits["winter"].append(hours)
    middle = {season: sorted(found)[len(found) // 2] for season, found in waits.items()}
    print("hours to dry after washing, median:", middle)
    assert 4 < middle["summer"] < 36  # about a day: common practice, no source
    assert middle["winter"] > middle["summer"]


def test_the_band_of_drying_stands_in_order() -> None:
    for day in DAYS:
        early, likely, late = washed(day)[1].drying.dry_at
        far = [math.inf if at is None else at.timestamp() for at in (early, likely, late)]
        assert far == sorted(far)
