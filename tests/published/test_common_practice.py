"""What finishers expect of a warm, humid morning (common practice, no source)."""

from datetime import date, datetime, timedelta

import pytest

from slabtide.engine import forecast
from slabtide.engine.diurnal import DayEntry, hourly_series
from slabtide.engine.pour import Load, Mix, Pour, Slab, Weather
from slabtide.engine.timeline import LoadTimeline

YARD3_M3 = 0.764555
FOOT2_M2 = 0.09290304
INCH_M = 0.0254
# Type A of ASTM C494 may set an hour sooner to an hour and a half later; the middle is a quarter hour later
# on five hours and a quarter (from memory, not verified).
WATER_REDUCED = Mix(w_cm=0.45, design_strength_mpa=27.6, set_factor=1.05)


def morning(begins_h: float, cloud: float, thickness_m: float = 0.145, mix: Mix = WATER_REDUCED) -> Pour:
    """Near 29 °C and 75 % as the crew works, concrete at 30 °C, 50 mm of foam, two loads of seven yards;
    each is 20 minutes on the road and struck off 25 minutes after it starts to discharge."""
    days = [DayEntry(date(2026, 7, 14) + timedelta(days=i), 24.5, 32.0, 0.78, 8.0, cloud) for i in range(6)]
    hourly = hourly_series(days, 39.0, -77.0, "America/New_York")
    area = 7 * YARD3_M3 / thickness_m

    def load(index: int) -> Load:
        begins = hourly[0].at + timedelta(hours=begins_h, minutes=35 * index)
        ends = begins + timedelta(minutes=25)
        return Load(str(index + 1), begins - timedelta(minutes=20), begins, ends, 30.0, area)

    slab = Slab(2 * area, thickness_m, 1.7, 24.0, 0.7, 9.0)
    return Pour("America/New_York", slab, (load(0), load(1)), Weather(hourly), mix=mix)


def last_load(pour: Pour) -> tuple[LoadTimeline, datetime]:
    timeline = forecast(pour, pour.loads[0].batched_at)
    return timeline.loads[-1], pour.loads[-1].placed_to


MORNINGS = [(6.5, 0.2), (6.5, 0.8), (7.5, 0.2), (7.5, 0.8), (8.5, 0.5)]


@pytest.mark.parametrize(("begins_h", "cloud"), MORNINGS)
def test_edges_can_be_worked_about_an_hour_after_the_last_strike_off(begins_h: float, cloud: float) -> None:
    """Common practice, no source. Within half an hour, and inside the band."""
    load, struck_off = last_load(morning(begins_h, cloud))
    window = load.windows["edge"]
    assert window is not None
    assert abs(window.opens.likely - struck_off - timedelta(hours=1)) < timedelta(minutes=30)
    assert window.opens.early <= struck_off + timedelta(hours=1) <= window.opens.late


@pytest.mark.parametrize(("begins_h", "cloud"), MORNINGS)
def test_texturing_is_done_about_two_and_a_quarter_hours_after_it(begins_h: float, cloud: float) -> None:
    """Common practice, no source. Within half an hour, and inside the band."""
    load, struck_off = last_load(morning(begins_h, cloud))
    window = load.windows["texture"]
    assert window is not None
    assert window.closes is not None
    told = timedelta(hours=2, minutes=15)
    assert abs(window.closes.likely - struck_off - told) < timedelta(minutes=30)
    assert window.closes.early <= struck_off + told <= window.closes.late


@pytest.mark.parametrize("inches", [5.5, 6.0])
def test_two_seven_yard_loads_fill_the_area_they_should(inches: float) -> None:
    """Common practice, no source: 14 yd3 at 5.5 to 6 in cover 756 to 825 ft2."""
    pour = morning(7.5, 0.5, thickness_m=inches * INCH_M)
    assert 750 <= pour.slab.area_m2 / FOOT2_M2 <= 830
    assert sum(load.area_m2 for load in pour.loads) * inches * INCH_M == pytest.approx(14 * YARD3_M3)


def test_the_sheen_does_not_stand_all_day_in_still_damp_air() -> None:
    """Common practice, no source: bleeding ends, and what stands is drawn back in."""
    damp = morning(7.5, 1.0)
    still = Pour(
        damp.time_zone,
        damp.slab,
        damp.loads,
        Weather(
            hourly_series(
                [DayEntry(date(2026, 7, 14), 24, 26, 0.98, 0.0, 1.0)] * 1, 39, -77, "America/New_York"
            )
        ),
        mix=damp.mix,
    )
    load, struck_off = last_load(still)
    window = load.windows["texture"]
    assert window is not None
    assert window.opens.likely - struck_off < timedelta(hours=3)
