"""The slabs of the months before, poured, sealed and closed: what looking back and the record show."""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import timedelta
from typing import Any
from zoneinfo import ZoneInfo

from scripts.demo.checklists import tick
from scripts.demo.jobs import plan_weather, prepare
from scripts.demo.moments import Crew, Moments
from scripts.demo.slabs import MIX, PLACE, open_job, order, outline, place_load, rectangle, work

PEA_STONE = MIX | {
    "name": "4500 psi, pea stone",
    "cement_kg_m3": 365,
    "w_cm": 0.43,
    "design_strength_mpa": 31.0,
}
CALLED_BACK = {"what": "white_sealer", "note": "Two spots by the downspout. Let dry, thin coat again."}


@dataclass(frozen=True)
class Past:
    """A slab of the past. `days_ago`: of the pour; `slow_min`: minutes that texture and saw came later than
    an ordinary mix's on such a day; `minutes_a_bay`: what texturing one bay of a load took."""

    slug: str
    name: str
    place: str
    use: str
    days_ago: int
    size_m: tuple[float, float]
    loads: int
    slow_min: float
    minutes_a_bay: float
    mix: dict[str, Any]
    callback: bool = False


PAST: Sequence[Past] = (
    Past("mill", "Mill Lane patio", "8 Mill Lane, Millbeck", "patio", 101, (9.0, 5.0), 1, 6, 44, MIX),
    Past(
        "orchard",
        "Orchard Close walk",
        "2 Orchard Close, Eddington Vale",
        "walk",
        84,
        (21.0, 2.0),
        1,
        14,
        40,
        MIX,
    ),
    Past(
        "weir",
        "Weir Cottage pool deck",
        "Weir Cottage, Millbeck",
        "pool_deck",
        69,
        (11.0, 8.0),
        2,
        -8,
        52,
        MIX,
    ),
    Past(
        "chapel",
        "Chapel Rise steps landing",
        "1 Chapel Rise, Eddington Vale",
        "other",
        55,
        (7.5, 6.0),
        1,
        9,
        41,
        MIX,
    ),
    Past("ridge", "Ridge End patio", "40 Ridge End, Millbeck", "patio", 47, (9.0, 5.2), 1, 26, 47, PEA_STONE),
    Past(
        "bakers", "Bakers Yard patio", "Bakers Yard, Millbeck", "patio", 38, (11.0, 8.2), 2, 2, 49, MIX, True
    ),
    Past(
        "lock", "Lock House walk", "Lock House, Eddington Vale", "walk", 29, (20.0, 2.1), 1, 31, 42, PEA_STONE
    ),
    Past("fern", "Fern Bank patio", "17 Fern Bank, Millbeck", "patio", 20, (9.0, 5.4), 1, 11, 43, MIX),
)
SLAB_M = 0.1143
# Minutes after a load was placed at which it was pressed, and how deep the foot went in [mm], on such a day.
PRESSED = ((75, 12), (105, 7), (130, 5))
TEXTURE_AFTER_MIN, SAW_AFTER_MIN = 119, 425


def past_jobs(crew: Crew, moments: Moments) -> int:
    """Records every slab of the past; gives how many there are."""
    for past in PAST:
        _record(crew, at_half_past_seven(moments, past.days_ago), past)
    return len(PAST)


def at_half_past_seven(moments: Moments, days_ago: int) -> Moments:
    """The demo's moments as they were on the morning of a pour: what is to come lies before its now."""
    day = moments.now.astimezone(ZoneInfo(PLACE["time_zone"])) - timedelta(days=days_ago)
    return replace(moments, now=day.replace(hour=7, minute=30, second=0, microsecond=0))


def _record(crew: Crew, then: Moments, past: Past) -> None:
    about = {"name": past.name, "place": past.place, "use": past.use}
    job = open_job(crew, then, past.slug, 200, **about)
    width, depth = past.size_m
    whole = rectangle(0, 0, width, depth)
    outline(crew, then, job, 199, whole)
    order(crew, then, job, 150, loads=past.loads, pour_in_h=0, mix=past.mix)
    plan_weather(crew, then, job)
    prepare(crew, then, job, past.slug, whole, ago_h=20)
    bays = []
    for number in range(1, past.loads + 1):
        part = rectangle(width / past.loads * (number - 1), 0, width / past.loads, depth)
        load, bay = place_load(crew, then, job, past.slug, number, -0.9 * (number - 1), part)
        bays.append(bay)
        _watched(crew, then, job, past, load, bay, 38 * (number - 1))
    for name in ("debris", "release", "touch_up"):
        tick(crew.second, then, job, name, ago_h=-7, bays=bays)
    _sawn(crew, then, job, past)
    _finished(crew, then, job, past, width * depth)


def _watched(crew: Crew, then: Moments, job: str, past: Past, load: str, bay: str, after_min: float) -> None:
    """Pressed until it bore, then textured."""
    for minutes, depth_mm in PRESSED:
        at = then.ago(minutes=-(after_min + minutes + past.slow_min))
        crew.foreman.record(job, "check.made", at, load=load, bay=bay, kind="footprint", depth_mm=depth_mm)
    begins_h = (after_min + TEXTURE_AFTER_MIN + past.slow_min) / 60
    crew.finisher.record(job, "release.laid", then.ago(hours=-begins_h + 0.1), bay=bay, mass_kg=4.6)
    work(crew, then, job, bay, "texture", -begins_h, -begins_h - past.minutes_a_bay / 60)


def _sawn(crew: Crew, then: Moments, job: str, past: Past) -> None:
    """A test cut, then the cut through the middle."""
    width, depth = past.size_m
    at = then.ago(minutes=-(SAW_AFTER_MIN + 1.5 * past.slow_min))
    crew.finisher.record(job, "cut.tested", at, result="clean", saw="conventional")
    crew.finisher.record(
        job,
        "cut.made",
        at + timedelta(minutes=12),
        length_m=depth,
        depth_m=0.03,
        saw="conventional",
        ravelled=False,
        last=True,
        from_=[width / 2, 0],
        to=[width / 2, depth],
    )


def _finished(crew: Crew, then: Moments, job: str, past: Past, area_m2: float) -> None:
    """Washed, coloured, sealed in two light coats, handed over."""
    area = round(area_m2, 1)
    washed, dry, sealed = (then.ago(hours=-24 * days - 2) for days in (4, 7, 8))
    crew.second.record(job, "wash.done", washed, method="Rinse and stiff broom", contained=True)
    crew.finisher.record(job, "colour.applied", then.ago(hours=-24 * 6), product="Walnut wash", area_m2=area)
    laid = then.ago_text(hours=-24 * 6 - 4)
    crew.finisher.record(job, "sheet.tested", dry, laid_at=laid, dry=True)
    for coat in (1, 2):
        at = sealed + timedelta(hours=4 * (coat - 1))
        litres = round(area_m2 / 6.5, 1)
        crew.finisher.record(
            job, "coat.sealed", at, coat=coat, product="Acrylic, clear", volume_l=litres, area_m2=area
        )
    over = then.ago(hours=-24 * 9)
    crew.foreman.record(job, "care.set", over, walk_h=24, drive_h=168, wash_days=7, reseal_months=24)
    crew.foreman.record(
        job, "job.closed", over + timedelta(hours=1), outcome="Walked with the owner. No open points."
    )
    if past.callback:
        crew.desk.record(job, "callback.noted", over + timedelta(days=12), **CALLED_BACK)
