"""Amounts as people read them: SI in, US customary or metric out, the same as on the phone."""

from dataclasses import dataclass
from typing import Literal

from slabtide.office.record.contract import System

GAP = "\u00a0"
M_PER_FOOT, M_PER_INCH = 0.3048, 0.0254
_SIXTEENTHS = 16

Quantity = Literal[
    "volume", "temp", "thickness", "slump", "footprint", "water", "speed", "area", "mass", "cement",
    "strength", "share", "sealer", "rain", "percent", "insulation", "spread",
    "kelvin",
]  # fmt: skip


@dataclass(frozen=True, slots=True)
class Shown:
    """shown = si * factor + offset, to so many decimals; -1 is to the ten."""

    unit: str
    factor: float
    decimals: int
    offset: float = 0.0


_TABLE: dict[Quantity, tuple[Shown, Shown]] = {
    "volume": (Shown("yd³", 1 / 0.764554857984, 2), Shown("m³", 1, 2)),
    "temp": (Shown("°F", 1.8, 0, 32), Shown("°C", 1, 0)),
    "kelvin": (Shown("°F", 1.8, 0), Shown("°C", 1, 0)),
    "thickness": (Shown("in", 1 / M_PER_INCH, 2), Shown("mm", 1000, 0)),
    "slump": (Shown("in", 1 / 25.4, 2), Shown("mm", 1, 0)),
    "footprint": (Shown("in", 1 / 25.4, 2), Shown("mm", 1, 0)),
    "water": (Shown("gal", 1 / 3.785411784, 1), Shown("l", 1, 0)),
    "speed": (Shown("mph", 1 / 1.609344, 0), Shown("km/h", 1, 0)),
    "area": (Shown("ft²", 1 / 0.09290304, 0), Shown("m²", 1, 1)),
    "mass": (Shown("lb", 1 / 0.45359237, 1), Shown("kg", 1, 1)),
    "cement": (Shown("lb/yd³", 1.685554936, 0), Shown("kg/m³", 1, 0)),
    "strength": (Shown("psi", 145.0377377, -1), Shown("MPa", 1, 1)),
    "share": (Shown("%", 100, 0), Shown("%", 100, 0)),
    "percent": (Shown("%", 1, 1), Shown("%", 1, 1)),
    "sealer": (Shown("gal", 1 / 3.785411784, 1), Shown("l", 1, 1)),
    "rain": (Shown("in", 1 / 25.4, 2), Shown("mm", 1, 1)),
    "insulation": (Shown("ft²·°F·h/BTU", 5.678263337, 1), Shown("m²K/W", 1, 2)),
    "spread": (Shown("ft²/gal", 40.745833, 0), Shown("m²/l", 1, 1)),
}


class Measures:
    """Amounts in one system of units."""

    def __init__(self, system: System) -> None:
        self.system = system

    def say(self, si: float, quantity: Quantity) -> str:
        """The number and its unit."""
        return f"{self.number(si, quantity)}{GAP}{self.unit(quantity)}"

    def number(self, si: float, quantity: Quantity) -> str:
        """The number alone; for several under one unit."""
        shown = self._shown(quantity)
        return _trimmed(si * shown.factor + shown.offset, shown.decimals)

    def unit(self, quantity: Quantity) -> str:
        """The unit's sign."""
        return self._shown(quantity).unit

    def between(self, low: float, high: float, quantity: Quantity, to: str) -> str:
        """`71 to 84 °F`, or one number when both are written alike."""
        first, last = self.number(low, quantity), self.number(high, quantity)
        return f"{first} {to} {last}{GAP}{self.unit(quantity)}" if first != last else self.say(low, quantity)

    def length(self, length_m: float) -> str:
        """A length: `12' 6 1/2"` to the sixteenth, or `3.81 m`."""
        if self.system == "us":
            return _feet_inches(length_m)
        return f"{_trimmed(length_m, 3)}{GAP}m"

    def short(self, length_m: float) -> str:
        """A small length: inches to the sixteenth, or whole millimetres."""
        if self.system == "us":
            return _feet_inches(length_m)
        return f"{_trimmed(length_m * 1000, 0)}{GAP}mm"

    def coordinates(self, spot: tuple[float, float]) -> str:
        """A point on the plan, from its origin."""
        return f"{self.length(spot[0])}, {self.length(spot[1])}"

    def _shown(self, quantity: Quantity) -> Shown:
        us, metric = _TABLE[quantity]
        return us if self.system == "us" else metric


def duration(minutes: float) -> str:
    """`35 min`, `1 h 20 min`, `2 d 4 h`: the same in both languages."""
    whole = round(abs(minutes))
    days, rest = divmod(whole, 1440)
    hours, left = divmod(rest, 60)
    parts = [(days, "d"), (hours, "h")] if days else [(hours, "h"), (left, "min")]
    words = " ".join(f"{count}{GAP}{unit}" for count, unit in parts if count)
    return ("-" if minutes < 0 and whole else "") + (words or f"0{GAP}min")


def _trimmed(value: float, decimals: int) -> str:
    text = f"{round(value, decimals):.{max(decimals, 0)}f}"
    text = text.rstrip("0").rstrip(".") if "." in text else text
    return "0" if text == "-0" else text


def _feet_inches(length_m: float) -> str:
    total = round(abs(length_m) / M_PER_INCH * _SIXTEENTHS)
    sign = "-" if length_m < 0 and total else ""
    feet, rest = divmod(total, 12 * _SIXTEENTHS)
    inches, part = divmod(rest, _SIXTEENTHS)
    fraction = _fraction(part)
    inch_text = " ".join(filter(None, (str(inches) if inches or not (fraction or feet) else "", fraction)))
    return sign + " ".join(filter(None, (f"{feet}'" if feet else "", f'{inch_text}"' if inch_text else "")))


def _fraction(count: int) -> str:
    if not count:
        return ""
    bottom = _SIXTEENTHS
    while count % 2 == 0:
        count, bottom = count // 2, bottom // 2
    return f"{count}/{bottom}"
