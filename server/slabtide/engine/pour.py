"""What the engine is told: one pour, its loads, what was seen on it, and the weather over it.

Field names are the keys of the `slabtide timeline` input. SI units throughout; every time carries its
UTC offset. The dataclasses hold values, they do not judge them: `contract.read_pour` does.
"""

from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

from slabtide.engine.later import Later

Aggregate = Literal["soft-rounded", "rounded", "crushed-soft", "crushed-hard"]
CheckKind = Literal["footprint", "thumb", "mat_clean", "mat_sticks", "mat_refused"]
SawKind = Literal["conventional", "early-entry"]
CementType = Literal["I/II", "III", "V", "IL"]
AshClass = Literal["F", "C"]
AdmixtureType = Literal["A", "B", "C", "D", "E", "F", "G", "S"]
CoverKind = Literal["blanket", "wet", "sheet"]


@dataclass(frozen=True, slots=True)
class Slab:
    """The slab as formed: area [m2], thickness [m], insulation under it [m2·K/W] (0 = straight on the
    ground), ground temperature at depth [°C], solar absorptivity [0..1], longest run without a joint [m]."""

    area_m2: float
    thickness_m: float
    insulation_r_m2k_w: float
    ground_temp_c: float
    solar_absorptivity: float
    uncut_length_m: float
    shade: float = 0.0
    base_friction: float = 1.5
    neighbours: float = 0.0
    reentrant_corners: int = 0


@dataclass(frozen=True, slots=True)
class Admixture:
    """A chemical admixture by its ASTM C494 type, and its dose as a share of the maker's usual one."""

    type: AdmixtureType
    dose: float = 1.0


@dataclass(frozen=True, slots=True)
class Mix:
    """The mix on the ticket. The set factor scales both clocks (1.2 = a fifth slower); its sd is that of
    the logarithm. `tau_h` and `beta` are the hydration curve at 23 °C.

    What is in it (cement, ash, slag, fume as shares of `cement_kg_m3`, which is all cementitious material;
    admixtures) shifts curve, heat and strength from there: `recipe.resolved`. `strength_slowness` is how
    many times longer than usual strength takes, `bleed_share` how much of the usual water rises."""

    cement_kg_m3: float = 340.0
    w_cm: float = 0.45
    design_strength_mpa: float = 27.6
    aggregate: Aggregate = "crushed-hard"
    set_factor: float = 1.0
    set_factor_sd: float = 0.20
    activation_energy_j_mol: float = 41_000.0
    tau_h: float = 13.7
    beta: float = 0.90
    hydration_heat_j_g: float = 470.0
    cement_type: CementType = "I/II"
    fly_ash_fraction: float = 0.0
    fly_ash_class: AshClass = "F"
    slag_fraction: float = 0.0
    silica_fume_fraction: float = 0.0
    admixtures: tuple[Admixture, ...] = ()
    strength_slowness: float = 1.0
    bleed_share: float = 1.0


@dataclass(frozen=True, slots=True)
class Cover:
    """Something laid over a load (None = over all), from one time to another: a blanket, a wet cover or a
    sheet, and its thermal resistance [m2·K/W]."""

    starts: datetime
    ends: datetime
    kind: CoverKind
    r_m2k_w: float
    load: str | None = None


@dataclass(frozen=True, slots=True)
class Load:
    """One truck: when water met cement, when it was placed, how warm it came, the area it filled, and what
    was added to it alone, on top of the mix's own admixtures."""

    id: str
    batched_at: datetime
    placed_from: datetime
    placed_to: datetime
    concrete_temp_c: float
    area_m2: float
    admixtures: tuple[Admixture, ...] = ()


@dataclass(frozen=True, slots=True)
class SurfaceCheck:
    """What a boot, a thumb or a mat found: `mat_clean` prints and lifts clean, `mat_sticks` is too early,
    `mat_refused` no longer prints. A footprint has its depth; the others may."""

    load: str
    at: datetime
    kind: CheckKind
    depth_mm: float | None = None


@dataclass(frozen=True, slots=True)
class Worked:
    """Texturing seen so far: part of a load [m2], when the crew began on it, and when it was done (None =
    still at it)."""

    load: str
    area_m2: float
    starts: datetime
    ends: datetime | None = None


@dataclass(frozen=True, slots=True)
class Texturing:
    """Who textures and with what: people, mats, one mat's area [m2], minutes to lay and tamp one mat; and
    what they have textured so far."""

    people: int
    mats: int
    mat_area_m2: float
    lay_minutes: float
    worked: tuple[Worked, ...] = ()


@dataclass(frozen=True, slots=True)
class Saw:
    """The saw, the length to cut [m] and how fast it goes [m/min]."""

    kind: SawKind
    length_m: float
    rate_m_per_min: float


@dataclass(frozen=True, slots=True)
class WeatherHour:
    """The weather at one time: air [°C], relative humidity [0..1], wind [km/h] and the height it was
    measured at [m], cloud cover [0..1], sun on a level surface [W/m2], rain in the hour that begins [mm],
    the share of the sun kept off by shade [0..1] where it is not the slab's own."""

    at: datetime
    air_temp_c: float
    rh: float
    wind_kmh: float
    wind_height_m: float = 10.0
    cloud: float = 0.0
    solar_w_m2: float = 0.0
    rain_mm: float = 0.0
    shade: float | None = None


@dataclass(frozen=True, slots=True)
class Weather:
    """Hourly weather, in order of time, one hour apart."""

    hourly: tuple[WeatherHour, ...]


@dataclass(frozen=True, slots=True)
class Pour:
    """Everything one forecast rests on."""

    time_zone: str
    slab: Slab
    loads: tuple[Load, ...]
    weather: Weather
    mix: Mix = field(default_factory=Mix)
    checks: tuple[SurfaceCheck, ...] = ()
    texturing: Texturing | None = None
    saw: Saw | None = None
    covers: tuple[Cover, ...] = ()
    later: Later = field(default_factory=Later)
    version: int = 1
