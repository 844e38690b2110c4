"""What was looked at and measured before and after: ticks, forms, joints, levels, pins, photos."""

from dataclasses import dataclass

from slabtide.log.model.leaf import Leaf, Spot


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
class PinOwner(Leaf):
    """Whose a pin is to deal with."""

    person: str


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
    owner: PinOwner | None


@dataclass(frozen=True, slots=True, kw_only=True)
class Photo(Leaf):
    photo: str
    caption: str | None
    pin: str | None
    bay: str | None
