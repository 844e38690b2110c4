"""What the engine answers: per load its windows and curve; for the pour its slots and notices.

Times are UTC `datetime`s on whole seconds; `contract.write_timeline` puts them in the pour's own zone.
"""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Literal

WindowName = Literal["edge", "mag", "texture", "saw", "wash", "colour", "seal"]
WINDOW_NAMES: tuple[WindowName, ...] = ("edge", "mag", "texture", "saw", "wash", "colour", "seal")
SlotName = Literal["wash", "colour", "seal"]
SLOT_NAMES: tuple[SlotName, ...] = ("wash", "colour", "seal")


@dataclass(frozen=True, slots=True)
class When:
    """A time that is not certain: one chance in ten it is before `early`, one in ten after `late`."""

    early: datetime
    likely: datetime
    late: datetime


@dataclass(frozen=True, slots=True)
class Window:
    """When work may start and when it must be done. `closes` is None where only a minimum age counts."""

    opens: When
    closes: When | None


@dataclass(frozen=True, slots=True)
class CurvePoint:
    """The likely state of one load at one time. `penetration_mpa` is capped at final set, 27.6 MPa."""

    at: datetime
    surface_temp_c: float
    mean_temp_c: float
    equivalent_age_h: float
    penetration_mpa: float
    strength_mpa: float
    stress_ratio: float
    evaporation_kg_m2_h: float


@dataclass(frozen=True, slots=True)
class SawPractice:
    """When the handbooks would saw a load, beside our own window; when its surface has dropped 15 °F from
    its peak in the first night, None if it doesn't; who says so."""

    opens: datetime
    closes: datetime
    surface_drop: datetime | None
    source: str


@dataclass(frozen=True, slots=True)
class LoadTimeline:
    """One load's answer. A window that can't be is None; a notice says why. The set factor is what the
    checks made of the mix's own (median, and sd of the logarithm)."""

    id: str
    windows: Mapping[WindowName, Window | None]
    curve: tuple[CurvePoint, ...]
    set_factor: float
    set_factor_sd: float
    saw_practice: SawPractice


@dataclass(frozen=True, slots=True)
class Slot:
    """Hours fit for a piece of later work, and why."""

    starts: datetime
    ends: datetime
    reason: str


@dataclass(frozen=True, slots=True)
class Notice:
    """Something to watch: a stable code, the load it concerns (None = the whole pour), when, in words."""

    code: str
    load: str | None
    starts: datetime
    ends: datetime
    text: str


@dataclass(frozen=True, slots=True)
class Timeline:
    """The whole answer. `slots` are ranked, best first; `mix_words` says the mix's pace as the trade does."""

    time_zone: str
    loads: tuple[LoadTimeline, ...]
    slots: Mapping[SlotName, tuple[Slot, ...]]
    warnings: tuple[Notice, ...]
    mix_words: str
    version: int = 1
