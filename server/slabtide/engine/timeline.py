"""What the engine answers: per load its windows and curve; for the pour its slots and notices.

Times are UTC `datetime`s on whole seconds; `contract.write_timeline` puts them in the pour's own zone.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import TYPE_CHECKING, Literal, NamedTuple

from slabtide.engine.crew import CrewRate
from slabtide.engine.later import WorkName
from slabtide.engine.pour import CheckKind, SurfaceCheck

if TYPE_CHECKING:
    from slabtide.engine.cut_plan import SawPlan
    from slabtide.engine.days_ahead import DaysAhead

WindowName = Literal["edge", "mag", "texture", "saw", "wash", "colour", "seal"]
WINDOW_NAMES: tuple[WindowName, ...] = ("edge", "mag", "texture", "saw", "wash", "colour", "seal")
SlotName = WorkName
PaceChangeName = Literal[
    "start_earlier", "one_more_hand", "another_set_of_mats", "smaller_pour", "retarder_in_later_loads"
]
PaceUnit = Literal["minutes", "people", "mats", "m2", "usual_dose"]
Param = float | str | tuple[str, ...]
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


class CurvePoint(NamedTuple):
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
class LearnedChange:
    """One check and what it did to a load: how much faster than expected the load sets after it [%, below
    zero slower], and the likely close of texturing before and after it (None where there is no window)."""

    load: str
    at: datetime
    kind: CheckKind
    percent_faster: float
    texture_closes_was: datetime | None
    texture_closes_now: datetime | None


@dataclass(frozen=True, slots=True)
class Learned:
    """What the checks made of one load: 10, 50 and 90 % of its set factor, how many checks it rests on (its
    own and its sisters'), the latest changes in order of time, and its own checks that contradict."""

    set_factor: tuple[float, float, float]
    from_checks: int
    changes: tuple[LearnedChange, ...]
    contradictory: tuple[SurfaceCheck, ...]


@dataclass(frozen=True, slots=True)
class LoadPace:
    """One load in the race: the area left to do, reached, finished, its close; minutes to spare at one chance
    in ten, as likely as not, and nine in ten (below zero: too late); the chance to miss it; from when body
    weight likely prints no more (None = out of reach), and the chance that part of it is reached later."""

    id: str
    left_m2: float
    reached: When
    finished: When
    closes: When
    slack_minutes: tuple[float, float, float]
    chance_to_miss: float
    tamper_from: datetime | None
    tamper_chance: float


@dataclass(frozen=True, slots=True)
class PaceChange:
    """A lever, how far it is pulled and in what unit, the chance to miss that is left [0..1], and the minutes
    it likely brings where it is tightest."""

    change: PaceChangeName
    amount: float
    unit: PaceUnit
    chance_to_miss_after: float
    slack_minutes_gained: float


@dataclass(frozen=True, slots=True)
class PaceCall:
    """Something to tell the crew early: what, on which load, by when, and its numbers."""

    code: Literal["tamper", "add_hands", "hold_release"]
    load: str
    at: datetime
    params: Mapping[str, float]


@dataclass(frozen=True, slots=True)
class ReleaseLead:
    """How long release stays good on the load that comes next [min], and the area worked in that time."""

    load: str
    lasts_minutes: float
    ahead_m2: float


@dataclass(frozen=True, slots=True)
class Where:
    """How far the crew has come: whether it has begun, the load it is on, area done and left [m2]; the area
    that would be done by now as planned, and the minutes behind that (below zero: ahead); the share of the
    told pace it keeps, and the minutes that rests on."""

    begun: bool
    load: str | None
    done_m2: float
    left_m2: float
    planned_m2: float
    behind_minutes: float
    speed: float
    timed_minutes: float


@dataclass(frozen=True, slots=True)
class Pace:
    """The race along the slab. `ready_at` is the start that is planned on, `opens` when the first load lets
    the crew start, `start_by` the latest start that still makes every load (None where most have none);
    `where` how far they have come; `loads` those left, in the order of work; `slack_minutes` what is in hand
    where it is tightest; `limiting` the load most likely missed; `changes` the levers that help."""

    rate: CrewRate
    ready_at: datetime
    opens: When
    start_by: When | None
    where: Where
    loads: tuple[LoadPace, ...]
    chance_to_miss: float
    slack_minutes: tuple[float, float, float]
    limiting: str
    release: ReleaseLead
    calls: tuple[PaceCall, ...]
    changes: tuple[PaceChange, ...]


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
    learned: Learned


@dataclass(frozen=True, slots=True)
class Slot:
    """Hours fit for a piece of later work, and why: in words and as numbers. Coolest and warmest air [°C],
    the least that the surface stands over the dew point [K], the most wind at the slab [km/h], hours without
    rain after it that the weather tells of and that are asked."""

    starts: datetime
    ends: datetime
    reason: str
    air_c: tuple[float, float]
    over_dew_k: float
    wind_kmh: float
    dry_after_h: tuple[int, int]


@dataclass(frozen=True, slots=True)
class Notice:
    """Something to watch: a stable code, the load it concerns (None = the whole pour), when, in English.
    `params` is all that the words rest on, so that another language can say it too."""

    code: str
    load: str | None
    starts: datetime
    ends: datetime
    text: str
    params: Mapping[str, Param] = field(default_factory=dict)


@dataclass(frozen=True, slots=True)
class Timeline:
    """The whole answer. `slots` are ranked, best first, `days` has all later work with its hours, `saw_plan`
    the cuts in order (None = none planned); `mix_words` says the mix's pace as the trade does."""

    time_zone: str
    loads: tuple[LoadTimeline, ...]
    slots: Mapping[SlotName, tuple[Slot, ...]]
    warnings: tuple[Notice, ...]
    mix_words: str
    days: "DaysAhead"
    pace: Pace | None = None
    saw_plan: "SawPlan | None" = None
    version: int = 1
