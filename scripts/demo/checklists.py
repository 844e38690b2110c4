"""The demo's checklists: ticks by hand, and the measurements that the other items are counted from."""

from collections.abc import Sequence

from scripts.demo.moments import Moments
from scripts.demo.phone import Phone
from scripts.demo.slabs import Corners

from slabtide.log.checklist_items import CHECKLISTS

HOUSE_EDGE = "0"


def tick(
    phone: Phone,
    moments: Moments,
    job: str,
    name: str,
    ago_h: float,
    share: float = 1.0,
    bays: Sequence[str] = ("",),
) -> None:
    """Ticks the first `share` of a list's items that are ticked by hand, a minute apart."""
    subjects = {"job": ("",), "edge": (HOUSE_EDGE,), "bay": tuple(bays)}
    by_hand = [item for item in CHECKLISTS[name] if item.counted == "tick"]
    rows = [(item.slug, subject) for item in by_hand for subject in subjects[item.per]]
    for index, (slug, subject) in enumerate(rows[: round(len(rows) * share)]):
        at = moments.ago(hours=ago_h, minutes=-index)
        phone.record(job, "item.ticked", at, list=name, item=slug, subject=subject, done=True)


def measure_forms(
    phone: Phone, moments: Moments, job: str, slug: str, corners: Corners, ago_h: float
) -> None:
    """Height, depth to base and firmness at each corner."""
    for index, spot in enumerate(corners):
        phone.record(
            job,
            "form.measured",
            moments.ago(hours=ago_h, minutes=-2 * index),
            point=moments.id(slug, "form", str(index)),
            label=f"F{index + 1}",
            spot=spot,
            height_m=round(0.02 - 0.02 * spot[1], 3),
            depth_m=0.115,
            firm=True,
        )


def check_joint(phone: Phone, moments: Moments, job: str, ago_h: float) -> None:
    """The strip along the house, found whole."""
    at = moments.ago(hours=ago_h)
    phone.record(
        job, "joint.checked", at, edge=int(HOUSE_EDGE), full_depth=True, continuous=True, depth_m=0.115
    )


def shoot_levels(phone: Phone, moments: Moments, job: str, slug: str, corners: Corners, ago_h: float) -> None:
    """Rod readings that fall 2 % away from the house, which stands along y = 0."""
    for index, spot in enumerate(corners):
        phone.record(
            job,
            "level.shot",
            moments.ago(hours=ago_h, minutes=-index),
            point=moments.id(slug, "level", str(index)),
            label=f"L{index + 1}",
            spot=spot,
            reading_m=round(1.2 + 0.02 * spot[1], 3),
        )
