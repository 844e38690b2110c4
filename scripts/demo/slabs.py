"""The demo's slabs as plain numbers: outlines in metres, mixes, and how an outline is cut into bays."""

from datetime import timedelta
from typing import Any

from scripts.demo.moments import Crew, Moments
from scripts.demo.phone import instant

# Seven cubic yards, the load of a truck in this scenario, in cubic metres.
SEVEN_YARDS_M3 = 5.352

PLACE = {"latitude_deg": 36.10, "longitude_deg": -79.95, "time_zone": "America/New_York"}

PLANT = "Kettle Bend Ready Mix"
# Our own numbers for an ordinary coloured flatwork mix; a company enters what its plant tells it.
MIX: dict[str, Any] = {
    "name": "4000 psi, crushed stone, air",
    "cement_kg_m3": 340,
    "w_cm": 0.45,
    "design_strength_mpa": 27.6,
    "aggregate": "crushed-hard",
    "colour": "sandstone, integral",
    "plant": PLANT,
}

Corners = list[list[float]]


def rectangle(left_m: float, bottom_m: float, width_m: float, depth_m: float) -> Corners:
    right_m, top_m = left_m + width_m, bottom_m + depth_m
    return [[left_m, bottom_m], [right_m, bottom_m], [right_m, top_m], [left_m, top_m]]


def open_job(crew: Crew, moments: Moments, slug: str, opened_h: float, **about: Any) -> str:
    job = moments.id(slug)
    crew.foreman.record(job, "job.opened", moments.ago(hours=opened_h), **PLACE, **about)
    return job


def outline(crew: Crew, moments: Moments, job: str, at_h: float, corners: Corners) -> None:
    """The slab, its first side against the house, on a stone base over warm ground."""
    crew.foreman.record(
        job,
        "slab.outlined",
        moments.ago(hours=at_h),
        corners=corners,
        thickness_m=0.1143,
        insulation_r_m2k_w=0.1,
        ground_temp_c=21,
        solar_absorptivity=0.65,
        abutting=[{"edge": 0, "against": "house wall"}],
    )


def order(
    crew: Crew,
    moments: Moments,
    job: str,
    at_h: float,
    loads: int,
    pour_in_h: float,
    mix: dict[str, Any] = MIX,
) -> None:
    """Equal seven-yard loads; `pour_in_h` may lie in the past."""
    crew.foreman.record(job, "mix.chosen", moments.ago(hours=at_h), **mix)
    crew.foreman.record(
        job,
        "order.placed",
        moments.ago(hours=at_h - 0.1),
        volume_m3=round(loads * SEVEN_YARDS_M3, 3),
        loads=loads,
        supplier=PLANT,
        pour_at=instant(moments.now + timedelta(hours=pour_in_h)),
        slump_mm=101.6,
        colour="sandstone",
    )
    crew.foreman.record(
        job,
        "crew.assigned",
        moments.ago(hours=at_h - 0.2),
        people=4,
        mats=8,
        mat_area_m2=0.6,
        lay_minutes=2.0,
        saw_kind="conventional",
        saw_length_m=22,
        saw_rate_m_per_min=1.0,
        lead=crew.finisher.person_id,
    )


def place_load(
    crew: Crew, moments: Moments, job: str, slug: str, number: int, placed_h: float, bay: Corners
) -> tuple[str, str]:
    """A load batched 40 minutes before it was placed, over 25 minutes, filling one bay: (load, bay)."""
    load, bay_id = moments.id(slug, "load", str(number)), moments.id(slug, "bay", str(number))
    start, end = moments.ago(hours=placed_h), moments.ago(hours=placed_h, minutes=-25)
    crew.foreman.record(
        job, "bay.drawn", start, bay=bay_id, label="ABCDEF"[number - 1], corners=bay, load=load, order=number
    )
    crew.finisher.record(
        job,
        "load.ticketed",
        start,
        load=load,
        number=number,
        ticket=f"KB-{4410 + number}",
        batched_at=moments.ago_text(hours=placed_h, minutes=40),
        volume_m3=SEVEN_YARDS_M3,
        slump_mm=101.6,
        concrete_temp_c=26.0 + 0.5 * number,
        colour_bags=7,
    )
    crew.finisher.record(job, "load.placed", end, load=load, from_=instant(start), to=instant(end))
    work(crew, moments, job, bay_id, "strike_off", placed_h - 0.1, placed_h - 0.45)
    work(crew, moments, job, bay_id, "bull_float", placed_h - 0.3, placed_h - 0.6)
    return load, bay_id


def work(
    crew: Crew, moments: Moments, job: str, bay: str, step: str, start_h: float, end_h: float | None
) -> None:
    """One step on one bay, hours before now; still at it when `end_h` is None."""
    crew.second.record(job, "bay.worked", moments.ago(hours=start_h), bay=bay, step=step, mark="start")
    if end_h is not None:
        crew.second.record(job, "bay.worked", moments.ago(hours=end_h), bay=bay, step=step, mark="end")
