"""What the order of work is weighed by. All are settings a company can change (EST: set by judgement)."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import timedelta


@dataclass(frozen=True, slots=True)
class Settings:
    """`weights`: what an hour late costs, by kind of work: mats that come late find concrete that takes no
    print, and the load is lost; a saw that comes late lets the slab crack, which no one can take back; a pour
    put off costs a call to the plant; coats mostly cost a day.
    """

    weights: Mapping[str, float] = field(
        default_factory=lambda: {
            "texture": 20.0,
            "saw": 10.0,
            "pour": 3.0,
            "seal": 1.0,
            "colour": 1.0,
            "wash": 1.0,
        }
    )
    between_jobs: timedelta = timedelta(minutes=45)
    """Packing, the road, unpacking."""
    after_last_load: timedelta = timedelta(hours=4)
    """How long a pour binds its crew after the last load: floating and texturing."""
    between_loads: timedelta = timedelta(minutes=45)
    texture_without_pace: timedelta = timedelta(minutes=45)
    """Texturing one load, where people and mats are not known."""
    set_up_saw: timedelta = timedelta(minutes=30)
    saw_without_length: timedelta = timedelta(hours=1)
    coating: timedelta = timedelta(hours=2)
    """Washing, second colour or one coat."""
    look_ahead: timedelta = timedelta(days=4)
    most_unnamed: int = 12
    """More jobs at work than this with no crew named: the company has several, and only names can tell."""


EST = Settings()
