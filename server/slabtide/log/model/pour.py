"""Pour day: bays, loads, what lies over them, what the surface says, the weather."""

from collections.abc import Mapping
from dataclasses import dataclass

from slabtide.log.model.leaf import Leaf, Spot
from slabtide.log.model.slab import AdmixtureDose


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
    what: str | None
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
    admixtures: tuple[AdmixtureDose, ...] | None
    water_allowed_l: float | None
    plant: str | None
    placed: Placed | None
    area_m2: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Unticketed:
    """A placement whose load has no ticket (yet, or taken back)."""

    id: str
    placed: Placed


@dataclass(frozen=True, slots=True, kw_only=True)
class Merged(Leaf):
    """A load written down twice: `load` went into `into`, the load kept at the end of the chain."""

    load: str
    into: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Cover:
    """What was laid, over one load or over all; it lies until it is lifted."""

    id: str
    kind: str
    r_m2k_w: float | None
    load: str | None
    laid: Leaf
    lifted: Leaf | None


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
