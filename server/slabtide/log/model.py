"""The typed reading of a job: frozen, in SI, times as ISO text, None for what is not known.

Every leaf keeps the event it came from, when that happened and who wrote it.
"""

from collections.abc import Mapping
from dataclasses import dataclass

Spot = tuple[float, float]
PHASES = ("layout", "ready", "pour", "texture", "next_days", "record")


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """Where a value came from: undo goes by `event`."""

    event: str
    at: str
    author: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Opened(Leaf):
    name: str
    place: str | None
    latitude_deg: float
    longitude_deg: float
    time_zone: str
    use: str
    customer: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class AbuttingEdge:
    """The side from corner `edge` to the next, against a building, wall or older slab."""

    edge: int
    against: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab(Leaf):
    corners: tuple[Spot, ...]
    thickness_m: float
    insulation_r_m2k_w: float
    ground_temp_c: float
    solar_absorptivity: float
    abutting: tuple[AbuttingEdge, ...]
    uncut_length_m: float | None
    area_m2: float
    perimeter_m: float
    volume_m3: float


@dataclass(frozen=True, slots=True, kw_only=True)
class Mix(Leaf):
    name: str
    cement_kg_m3: float
    w_cm: float
    design_strength_mpa: float
    aggregate: str
    set_factor: float | None
    set_factor_sd: float | None
    colour: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Order(Leaf):
    volume_m3: float
    loads: int
    supplier: str | None
    pour_at: str
    slump_mm: float | None
    colour: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Crew(Leaf):
    people: int
    mats: int | None
    mat_area_m2: float | None
    lay_minutes: float | None
    saw_kind: str | None
    saw_length_m: float | None
    saw_rate_m_per_min: float | None
    lead: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Mark(Leaf):
    """A step's start or end; the moment is `at`."""

    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Step:
    start: Mark | None
    end: Mark | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Release(Leaf):
    mass_kg: float | None
    product: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Bay(Leaf):
    """`release_at`: when release was laid, else when the release step ended; `steps` holds those begun."""

    id: str
    label: str
    corners: tuple[Spot, ...]
    order: int
    area_m2: float
    load: str | None
    steps: Mapping[str, Step]
    release: Release | None
    release_at: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Placed(Leaf):
    from_: str
    to: str
    area_m2: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Load(Leaf):
    """`area_m2`: sum of its bays, else as placed, else volume over thickness."""

    id: str
    number: int
    ticket: str | None
    batched_at: str
    volume_m3: float
    slump_mm: float | None
    concrete_temp_c: float | None
    water_added_l: float | None
    colour_bags: float | None
    placed: Placed | None
    area_m2: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unticketed:
    """A placement whose load has no ticket (yet, or taken back)."""

    id: str
    placed: Placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Check(Leaf):
    load: str
    bay: str | None
    kind: str
    depth_mm: float | None
    spot: Spot | None


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherDay(Leaf):
    date: str
    low_c: float
    high_c: float
    rh: float
    wind_kmh: float
    cloud: float


@dataclass(frozen=True, slots=True, kw_only=True)
class WeatherNote(Leaf):
    air_temp_c: float | None
    rh: float | None
    wind_kmh: float | None
    cloud: float | None
    raining: bool | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Tick(Leaf):
    done: bool
    by: str
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class FormPoint(Leaf):
    """Top of form against the string line, and depth from it to the base."""

    id: str
    label: str
    spot: Spot
    height_m: float | None
    depth_m: float | None
    firm: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Joint(Leaf):
    edge: int
    full_depth: bool
    continuous: bool
    depth_m: float | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Level(Leaf):
    """A rod reading; larger means lower."""

    id: str
    label: str
    spot: Spot
    reading_m: float


@dataclass(frozen=True, slots=True, kw_only=True)
class PinClosed(Leaf):
    how: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Pin(Leaf):
    id: str
    spot: Spot
    what: str
    bay: str | None
    note: str | None
    photo: str | None
    open: bool
    closed: PinClosed | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Leaf):
    photo: str
    caption: str | None
    pin: str | None
    bay: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut(Leaf):
    length_m: float
    depth_m: float | None
    saw: str
    ravelled: bool | None
    from_: Spot | None
    to: Spot | None
    last: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Wash(Leaf):
    method: str | None
    contained: bool
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Colour(Leaf):
    product: str | None
    area_m2: float | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Coat(Leaf):
    coat: int
    product: str | None
    volume_l: float | None
    area_m2: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Ack(Leaf):
    by: str
    via: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Snooze(Leaf):
    by: str
    until: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Note(Leaf):
    text: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Closed(Leaf):
    outcome: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class JobView:
    """A whole job. `ticks` by "list/item/subject", `acks` and `snoozes` by reminder id."""

    id: str
    name: str
    opened: Opened | None
    slab: Slab | None
    mix: Mix | None
    order: Order | None
    crew: Crew | None
    bays: tuple[Bay, ...]
    loads: tuple[Load, ...]
    unticketed: tuple[Unticketed, ...]
    checks: tuple[Check, ...]
    weather_days: tuple[WeatherDay, ...]
    weather_notes: tuple[WeatherNote, ...]
    ticks: Mapping[str, Tick]
    forms: tuple[FormPoint, ...]
    joints: tuple[Joint, ...]
    levels: tuple[Level, ...]
    pins: tuple[Pin, ...]
    photos: tuple[Photo, ...]
    cuts: tuple[Cut, ...]
    cut_length_m: float
    cuts_done: bool
    washes: tuple[Wash, ...]
    colours: tuple[Colour, ...]
    coats: tuple[Coat, ...]
    acks: Mapping[str, Ack]
    snoozes: Mapping[str, Snooze]
    notes: tuple[Note, ...]
    closed: Closed | None
    phase: str
