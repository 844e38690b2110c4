"""What each piece of later work asks of the weather and the surface: the label where it speaks, else
practice."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Literal, get_args

from slabtide.engine.later import Product, WorkName

LimitName = Literal[
    "low_c",
    "high_c",
    "over_dew_k",
    "dry_before_h",
    "dry_after_h",
    "wind_most_kmh",
    "least_age_h",
    "recoat_least_h",
    "recoat_most_h",
    "coats",
    "coverage_m2_per_l",
]
LIMIT_NAMES: tuple[LimitName, ...] = get_args(LimitName)

# 50 to 90 °F for air and surface, trade guidance; 5 °F over dew point, a coating rule from memory, not
# verified; the rest common practice, no source (EST). The label of the product in hand overrides all of it.
PRACTICE: Mapping[WorkName, Product] = {
    "wash": Product(low_c=4.4, high_c=45.0),
    "colour": Product(
        low_c=10.0,
        high_c=32.0,
        over_dew_k=0.0,
        dry_before_h=12.0,
        dry_after_h=12.0,
        wind_most_kmh=20.0,
        recoat_least_h=24.0,
        coats=1,
    ),
    "seal": Product(
        low_c=10.0,
        high_c=32.0,
        over_dew_k=3.0,
        dry_before_h=24.0,
        dry_after_h=24.0,
        wind_most_kmh=20.0,
        recoat_least_h=4.0,
        coats=2,
        coverage_m2_per_l=4.3,
    ),
}


@dataclass(frozen=True, slots=True)
class Limit:
    """One limit, in its own unit, and whether the label says it."""

    value: float
    from_label: bool


@dataclass(frozen=True, slots=True)
class Needs:
    """The limits of one piece of work; one that isn't there does not hold. `dry` wants a dry surface."""

    work: WorkName
    limits: Mapping[LimitName, Limit]

    @property
    def dry(self) -> bool:
        """Whether the surface must be dry: all but washing."""
        return self.work != "wash"

    def value(self, name: LimitName) -> float | None:
        """A limit, or None."""
        limit = self.limits.get(name)
        return None if limit is None else limit.value


def needs_of(work: WorkName, product: Product | None) -> Needs:
    """The limits of a piece of work: the label's where it says one, practice for the rest.

    >>> needs_of("seal", Product(low_c=7.0)).limits["low_c"]
    Limit(value=7.0, from_label=True)
    """
    limits: dict[LimitName, Limit] = {}
    for name in LIMIT_NAMES:
        told, usual = getattr(product or Product(), name), getattr(PRACTICE[work], name)
        if told is not None or usual is not None:
            limits[name] = Limit(float(usual if told is None else told), told is not None)
    return Needs(work, limits)
