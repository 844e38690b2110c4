"""The next days: cuts, wash, colour, sealer, and what the owner is told."""

from dataclasses import dataclass

from slabtide.log.model.leaf import Leaf, Spot


@dataclass(frozen=True, slots=True, kw_only=True)
class Cut(Leaf):
    length_m: float
    depth_m: float | None
    saw: str
    ravelled: bool | None
    from_: Spot | None
    to: Spot | None
    last: bool | None
    cut: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class PlannedCut(Leaf):
    """`made`: the first cut that ticks it."""

    id: str
    from_: Spot
    to: Spot
    length_m: float
    order: int
    load: str | None
    made: Cut | None


@dataclass(frozen=True, slots=True, kw_only=True)
class TestCut(Leaf):
    """A short cut to see whether the joint ravels."""

    result: str
    saw: str
    load: str | None
    bay: str | None
    spot: Spot | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Product(Leaf):
    """What goes on and what its maker asks for: air and surface, dew, dry hours, wind, age, recoat."""

    work: str
    name: str | None
    low_c: float | None
    high_c: float | None
    over_dew_k: float | None
    dry_before_h: float | None
    dry_after_h: float | None
    wind_most_kmh: float | None
    least_age_h: float | None
    recoat_least_h: float | None
    recoat_most_h: float | None
    coats: int | None
    coverage_m2_per_l: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class SheetTest(Leaf):
    """A sheet taped down to see whether moisture comes up; it was lifted `at`."""

    laid_at: str
    dry: bool
    bay: str | None
    spot: Spot | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class KeptSlot(Leaf):
    """The time the lead keeps for a work."""

    work: str
    coat: int
    from_: str
    to: str


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
class Callback(Leaf):
    what: str
    bay: str | None
    note: str | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Care(Leaf):
    """What the owner is told to keep to, where it differs from the usual."""

    walk_h: float | None
    drive_h: float | None
    wash_days: float | None
    reseal_months: float | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Aside(Leaf):
    """Why the company does not learn from this pour."""

    why: str
