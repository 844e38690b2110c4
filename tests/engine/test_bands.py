"""The bands are honest: truths drawn from the stated errors fall inside as often as is said."""

import math
import random
from collections.abc import Callable, Iterator
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from tests.engine.born import born

from slabtide.engine import Pour, forecast
from slabtide.engine.bleeding import REABSORBED_SHARE
from slabtide.engine.clocks import time_at
from slabtide.engine.column import slab_column
from slabtide.engine.forcing import hourly_forcing
from slabtide.engine.history import follow
from slabtide.engine.setting import TEXTURE_CLOSES_MPA, age_at_penetration_h, final_set_h, initial_set_h
from slabtide.engine.surface import footprint_age_h

MakePour = Callable[..., Pour]
Truth = tuple[datetime, datetime]


def truths(pour: Pour, count: int) -> Iterator[Truth]:
    """When texturing really opens and closes, its heat solved anew for each draw of mix and weather."""
    draw = random.Random(7)
    load, mix, anchor = pour.loads[0], pour.mix, pour.weather.hourly[0].at
    birth = born(pour)
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    initial, closes_mpa = initial_set_h(mix), TEXTURE_CLOSES_MPA
    stiff_h = age_at_penetration_h(closes_mpa, initial, final_set_h(mix))
    hourly = pour.weather.hourly[:40]
    for _ in range(count):
        factor = math.exp(mix.set_factor_sd * draw.gauss(0.0, 1.0))
        hours = hourly_forcing(hourly, pour.slab.solar_absorptivity, load.batched_at, draw.gauss(0.0, 1.0))
        h = follow(birth, replace(mix, set_factor=factor), column, hours)
        firm_h = footprint_age_h(mix) * factor * math.exp(0.08 * draw.gauss(0.0, 1.0))
        sheen_s = time_at(h.times_s, h.top_age_h, REABSORBED_SHARE * initial * factor)
        sheen_s = min(sheen_s, h.film_dry_s or math.inf)
        opens_s = max(sheen_s, time_at(h.times_s, h.surface_age_h, firm_h))
        closes_s = time_at(h.times_s, h.top_age_h, stiff_h * factor * math.exp(0.045 * draw.gauss(0.0, 1.0)))
        struck_off = load.placed_to
        yield (
            max(struck_off, anchor + timedelta(seconds=opens_s)),
            anchor + timedelta(seconds=closes_s),
        )


@pytest.mark.parametrize(
    "scene", [{}, {"air_c": 30.0, "concrete_c": 31.0}, {"air_c": 9.0, "concrete_c": 14.0}]
)
def test_an_eighty_percent_band_holds_eighty_in_a_hundred(make_pour: MakePour, scene: dict[str, Any]) -> None:
    pour = make_pour(**scene)
    window = forecast(pour, pour.loads[0].batched_at).loads[0].windows["texture"]
    assert window is not None
    assert window.closes is not None
    drawn = list(truths(pour, 400))
    opened = sum(window.opens.early <= opens <= window.opens.late for opens, _ in drawn) / len(drawn)
    closed = sum(window.closes.early <= closes <= window.closes.late for _, closes in drawn) / len(drawn)
    assert 0.75 <= opened <= 0.85
    assert 0.75 <= closed <= 0.85
