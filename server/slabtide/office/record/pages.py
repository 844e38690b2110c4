"""What both forms of the record share: the tools at hand while writing, and how things are named."""

from dataclasses import dataclass, field

from slabtide.log.model import JobView, Leaf
from slabtide.office.record.contract import Asked, Source
from slabtide.office.record.gather import photos_of
from slabtide.office.record.measures import Measures, Quantity
from slabtide.office.record.moments import Moments
from slabtide.office.record.paper import Paper
from slabtide.office.record.words import Words


@dataclass(slots=True)
class Writing:
    """A record being written: the paper, what it is about, and the words and units to say it in."""

    paper: Paper
    source: Source
    asked: Asked
    words: Words
    measures: Measures
    moments: Moments
    pin_numbers: dict[str, int] = field(default_factory=dict)
    photo_numbers: dict[str, int] = field(default_factory=dict)

    def __post_init__(self) -> None:
        self.pin_numbers = {pin.id: number for number, pin in enumerate(self.view.pins, 1)}
        self.photo_numbers = {photo: number for number, photo in enumerate(photos_of(self.view), 1)}

    @property
    def view(self) -> JobView:
        """The job."""
        return self.source.view

    def name(self, person: str) -> str:
        """Who it was."""
        return self.source.people.get(person) or self.words("someone")

    def by(self, leaf: Leaf | None) -> str:
        """Who wrote it; nothing for nothing."""
        return self.name(leaf.author) if leaf else ""

    def amount(self, value: float | None, quantity: Quantity) -> str:
        """An amount with its unit; nothing for nothing."""
        return "" if value is None else self.measures.say(value, quantity)

    def short(self, length_m: float | None) -> str:
        """A small length; nothing for nothing."""
        return "" if length_m is None else self.measures.short(length_m)

    def yes(self, value: bool | None) -> str:
        """Yes, no or nothing."""
        return "" if value is None else self.words("yes" if value else "no")

    def bay(self, bay: str | None) -> str:
        """A bay's name; nothing for none."""
        if bay is None:
            return ""
        found = next((one for one in self.view.bays if one.id == bay), None)
        return self.words("bay", label=found.label) if found else self.words("bay.gone")

    def load(self, load: str | None) -> str:
        """A load's name; nothing for none."""
        if load is None:
            return ""
        found = next((one for one in self.view.loads if one.id == load), None)
        if found:
            return self.words("load", number=found.number)
        untold = any(one.id == load for one in self.view.unticketed)
        return self.words("load.untold" if untold else "load.gone")

    def side(self, edge: int) -> str:
        """What stands at a side, or the side's number."""
        rows = self.view.slab.abutting if self.view.slab else ()
        against = next((row.against for row in rows if row.edge == edge), None)
        return against or f"{self.words('edges.side')} {edge + 1}"


def some(*parts: str | None) -> str:
    """The parts there are, with commas between."""
    return ", ".join(part for part in parts if part)
