"""The three jobs: a patio poured this morning, a pool deck in its next days, a walk being made ready."""

from datetime import timedelta
from zoneinfo import ZoneInfo

from scripts.demo.checklists import check_joint, measure_forms, shoot_levels, tick
from scripts.demo.moments import Crew, Moments
from scripts.demo.slabs import PLACE, Corners, open_job, order, outline, place_load, rectangle, work


def patio_today(crew: Crew, moments: Moments) -> str:
    """Two seven-yard loads down this morning; the first bay comes up to its texture, the second follows."""
    about = {"name": "Lantern Row patio", "place": "14 Lantern Row, Millbeck", "use": "patio"}
    job = open_job(crew, moments, "patio", 96, customer="The Aldous family", **about)
    whole = rectangle(0, 0, 11.0, 8.5)
    outline(crew, moments, job, 95, whole)
    order(crew, moments, job, 72, loads=2, pour_in_h=-2.6)
    prepare(crew, moments, job, "patio", whole, ago_h=20)
    tick(crew.second, moments, job, "debris", ago_h=3.2, share=0.5)
    first, first_bay = place_load(crew, moments, job, "patio", 1, 2.2, rectangle(0, 0, 5.5, 8.5))
    place_load(crew, moments, job, "patio", 2, 1.3, rectangle(5.5, 0, 5.5, 8.5))
    crew.finisher.record(job, "weather.noted", moments.ago(hours=2.3), air_temp_c=25.5, rh=0.62, wind_kmh=9)
    pin = moments.id("patio", "pin", "1")
    spot = [1.4, 6.2]
    found = moments.ago(hours=1.7)
    crew.second.record(
        job, "pin.dropped", found, pin=pin, spot=spot, what="debris", bay=first_bay, note="Twig by the step"
    )
    crew.second.record(job, "pin.closed", found + timedelta(minutes=4), pin=pin, how="Picked out, floated")
    crew.foreman.record(
        job, "check.made", moments.ago(minutes=15), load=first, bay=first_bay, kind="footprint", depth_mm=10
    )
    return job


def deck_next_days(crew: Crew, moments: Moments) -> str:
    """Textured; the saw is due, part of it is cut, one pin is open."""
    about = {"name": "Ferry House pool deck", "place": "Old Ferry House, Millbeck", "use": "pool_deck"}
    job = open_job(crew, moments, "deck", 240, customer="R. Ellery", **about)
    whole = rectangle(0, 0, 15.6, 9.0)
    outline(crew, moments, job, 239, whole)
    order(crew, moments, job, 150, loads=3, pour_in_h=-13.0)
    prepare(crew, moments, job, "deck", whole, ago_h=30)
    bays = []
    for number in (1, 2, 3):
        placed_h = 11.2 - 0.8 * number
        _, bay = place_load(
            crew, moments, job, "deck", number, placed_h, rectangle(5.2 * (number - 1), 0, 5.2, 9.0)
        )
        bays.append(bay)
        crew.finisher.record(job, "release.laid", moments.ago(hours=placed_h - 2.2), bay=bay, mass_kg=5.4)
        work(crew, moments, job, bay, "texture", placed_h - 2.4, placed_h - 3.1)
    for name in ("debris", "release", "touch_up"):
        tick(crew.second, moments, job, name, ago_h=6.5, bays=bays)
    pin = moments.id("deck", "pin", "1")
    seen = moments.ago(hours=7)
    crew.second.record(
        job, "pin.dropped", seen, pin=pin, spot=[13.2, 4.1], what="thin_texture", note="Two mats wide"
    )
    crew.finisher.record(
        job,
        "cut.made",
        moments.ago(minutes=35),
        length_m=9.0,
        depth_m=0.03,
        saw="conventional",
        ravelled=False,
        from_=[5.2, 0],
        to=[5.2, 9.0],
    )
    return job


def walk_ready(crew: Crew, moments: Moments) -> str:
    """Poured the day after tomorrow: forms half ticked, weather entered by hand."""
    about = {"name": "Quarry Rise front walk", "place": "3 Quarry Rise, Eddington Vale", "use": "walk"}
    job = open_job(crew, moments, "walk", 50, **about)
    outline(crew, moments, job, 49, rectangle(0, 0, 22.4, 2.05))
    order(crew, moments, job, 26, loads=1, pour_in_h=46)
    tick(crew.finisher, moments, job, "forms", ago_h=2, share=0.5)
    tick(crew.second, moments, job, "isolation", ago_h=1.5, share=0.5)
    plan_weather(crew, moments, job)
    return job


def prepare(crew: Crew, moments: Moments, job: str, slug: str, whole: Corners, ago_h: float) -> None:
    """Everything that comes before the truck, done."""
    for name in ("forms", "isolation", "slope"):
        tick(crew.second, moments, job, name, ago_h)
    measure_forms(crew.finisher, moments, job, slug, whole, ago_h - 0.2)
    check_joint(crew.finisher, moments, job, ago_h - 0.5)
    shoot_levels(crew.finisher, moments, job, slug, whole, ago_h - 0.6)


def plan_weather(crew: Crew, moments: Moments, job: str) -> None:
    """Days typed in by the foreman: also what the demo falls back on without a weather file."""
    today = moments.now.astimezone(ZoneInfo(PLACE["time_zone"])).date()
    days = [
        {
            "date": (today + timedelta(days=ahead)).isoformat(),
            "low_c": 19.0,
            "high_c": 29.0 - 0.5 * (ahead % 3),
            "rh": 0.6,
            "wind_kmh": 8.0,
            "cloud": 0.3,
        }
        for ahead in range(-1, 6)
    ]
    crew.foreman.record(job, "weather.planned", moments.ago(hours=25), days=days)
