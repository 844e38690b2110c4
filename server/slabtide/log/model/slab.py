"""The job and the slab before it is poured: place, outline, mix, order, crew."""

from dataclasses import dataclass

from slabtide.log.model.leaf import Leaf, Spot


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
    """The side from corner `edge` to the next, against a building, wall or older slab. `bonded`: cast against
    it without isolation; otherwise it is isolated."""

    edge: int
    against: str
    bonded: bool | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Slab(Leaf):
    """`bonded_share`: length of the bonded sides over the perimeter; `reentrant_corners`: inner corners."""

    corners: tuple[Spot, ...]
    thickness_m: float
    insulation_r_m2k_w: float
    ground_temp_c: float
    solar_absorptivity: float
    abutting: tuple[AbuttingEdge, ...]
    uncut_length_m: float | None
    shade: float | None
    base_friction: float | None
    area_m2: float
    perimeter_m: float
    volume_m3: float
    bonded_share: float
    reentrant_corners: int


@dataclass(frozen=True, slots=True, kw_only=True)
class AdmixtureDose:
    """An admixture by its ASTM C494 type, and its share of the usual dose."""

    type: str
    dose: float


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
    plant: str | None
    cement_type: str | None
    fly_ash_fraction: float | None
    fly_ash_class: str | None
    slag_fraction: float | None
    silica_fume_fraction: float | None
    admixtures: tuple[AdmixtureDose, ...] | None
    slump_allowance_mm: float | None
    drum_limit_min: float | None


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
    crew_name: str | None
    saw_name: str | None
    sprayer_name: str | None
