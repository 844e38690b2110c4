"""The whole job, and what people said of it."""

from collections.abc import Mapping
from dataclasses import dataclass

from slabtide.log.model.after import (
    Aside,
    Callback,
    Care,
    Coat,
    Colour,
    Cut,
    KeptSlot,
    PlannedCut,
    Product,
    SheetTest,
    TestCut,
    Wash,
)
from slabtide.log.model.checked import FormPoint, Joint, Level, Photo, Pin, Tick
from slabtide.log.model.leaf import Leaf
from slabtide.log.model.pour import Bay, Check, Cover, Load, Merged, Unticketed, WeatherDay, WeatherNote
from slabtide.log.model.slab import Crew, Mix, Opened, Order, Slab

PHASES = ("layout", "ready", "pour", "texture", "next_days", "record")


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
    """A whole job. `ticks` by "list/item/subject", `acks` and `snoozes` by reminder, `products` by work."""

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
    merged: tuple[Merged, ...]
    covers: tuple[Cover, ...]
    checks: tuple[Check, ...]
    weather_days: tuple[WeatherDay, ...]
    weather_notes: tuple[WeatherNote, ...]
    ticks: Mapping[str, Tick]
    forms: tuple[FormPoint, ...]
    joints: tuple[Joint, ...]
    levels: tuple[Level, ...]
    pins: tuple[Pin, ...]
    photos: tuple[Photo, ...]
    planned_cuts: tuple[PlannedCut, ...]
    test_cuts: tuple[TestCut, ...]
    cuts: tuple[Cut, ...]
    cut_length_m: float
    cuts_done: bool
    products: Mapping[str, Product]
    sheet_tests: tuple[SheetTest, ...]
    kept_slots: tuple[KeptSlot, ...]
    washes: tuple[Wash, ...]
    colours: tuple[Colour, ...]
    coats: tuple[Coat, ...]
    acks: Mapping[str, Ack]
    snoozes: Mapping[str, Snooze]
    notes: tuple[Note, ...]
    closed: Closed | None
    callbacks: tuple[Callback, ...]
    care: Care | None
    aside: Aside | None
    phase: str
