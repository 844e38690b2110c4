"""What is told of the days after the pour: products, work done and kept, damp tests, cuts and test cuts.

Field names are the keys of the `slabtide timeline` input. SI units; every time carries its UTC offset.
"""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from typing import Literal

WorkName = Literal["wash", "colour", "seal"]
CutResult = Literal["clean", "slight", "ravels"]
MOST_COATS = 4


@dataclass(frozen=True, slots=True)
class Product:
    """What a product's label asks for; None where it says nothing. Air and surface [°C], surface over the dew
    point [K], hours without rain before and after, wind half a metre over the slab [km/h], least age [h],
    hours after the coat before, light coats, area a litre covers [m2]."""

    low_c: float | None = None
    high_c: float | None = None
    over_dew_k: float | None = None
    dry_before_h: float | None = None
    dry_after_h: float | None = None
    wind_most_kmh: float | None = None
    least_age_h: float | None = None
    recoat_least_h: float | None = None
    recoat_most_h: float | None = None
    coats: int | None = None
    coverage_m2_per_l: float | None = None


@dataclass(frozen=True, slots=True)
class Coat:
    """A coat of sealer laid: which, and when it was done."""

    coat: int
    at: datetime


@dataclass(frozen=True, slots=True)
class Done:
    """Later work done: when the washes and second colours ended, and the coats."""

    washes: tuple[datetime, ...] = ()
    colours: tuple[datetime, ...] = ()
    coats: tuple[Coat, ...] = ()


@dataclass(frozen=True, slots=True)
class SheetTest:
    """A plastic sheet taped down (ASTM D4263) and lifted: dry under it or not, and where (None =
    anywhere)."""

    laid_at: datetime
    at: datetime
    dry: bool
    place: str | None = None


@dataclass(frozen=True, slots=True)
class KeptSlot:
    """Hours somebody has set their mind on."""

    work: WorkName
    coat: int
    starts: datetime
    ends: datetime


@dataclass(frozen=True, slots=True)
class Cut:
    """One planned cut: its length [m], the loads it runs over (none = any), when it was made (None = not)."""

    id: str
    length_m: float
    loads: tuple[str, ...] = ()
    made_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class TriedCut:
    """A short cut made to see whether the edges hold; on one load, or on any (None)."""

    at: datetime
    result: CutResult
    load: str | None = None


@dataclass(frozen=True, slots=True)
class Later:
    """All of it. Cuts stand in the order of work."""

    products: Mapping[WorkName, Product] = field(default_factory=dict)
    done: Done = field(default_factory=Done)
    sheet_tests: tuple[SheetTest, ...] = ()
    kept: tuple[KeptSlot, ...] = ()
    cuts: tuple[Cut, ...] = ()
    test_cuts: tuple[TriedCut, ...] = ()
