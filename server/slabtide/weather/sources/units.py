"""The units a source may answer in, by the names it gives them, turned to ours."""

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from slabtide.weather.sources.contract import SourceError

Turn = Callable[[float], float]


@dataclass(frozen=True, slots=True)
class Quantity:
    """What is measured: its name for people, its least and most in our unit, how each unit becomes ours."""

    name: str
    least: float
    most: float
    unit: str
    units: Mapping[str, Turn]

    def turn(self, unit: object) -> Turn:
        """How a value in `unit` becomes ours. Raises: SourceError for a unit we don't know."""
        plain = unit.rpartition(":")[2] if isinstance(unit, str) else ""
        if plain not in self.units:
            raise SourceError(f"gives {self.name} in a unit we don't know ({str(unit)[:20]})")
        return self.units[plain]

    def checked(self, value: float) -> float:
        """A value in our unit, if it can be. Raises: SourceError."""
        if not self.least <= value <= self.most:
            raise SourceError(f"gives {self.name} of {value:.4g} {self.unit}, which can't be")
        return value


def _by(factor: float) -> Turn:
    return lambda value: value * factor


_FAHRENHEIT: Turn = lambda value: (value - 32.0) / 1.8  # noqa: E731
_KELVIN: Turn = lambda value: value - 273.15  # noqa: E731
_SAME = _by(1.0)

_DEGREES = {"degC": _SAME, "°C": _SAME, "degF": _FAHRENHEIT, "°F": _FAHRENHEIT, "K": _KELVIN}
_SHARES = {"percent": _by(0.01), "%": _by(0.01), "1": _SAME}
_SPEEDS = {
    "km_h-1": _SAME,
    "km/h": _SAME,
    "m_s-1": _by(3.6),
    "m/s": _by(3.6),
    "kt": _by(1.852),
    "kn": _by(1.852),
    "mph": _by(1.609344),
    "mp/h": _by(1.609344),
}
_DEPTHS = {"mm": _SAME, "cm": _by(10.0), "m": _by(1000.0), "in": _by(25.4), "inch": _by(25.4)}

AIR = Quantity("an air temperature", -60.0, 60.0, "°C", _DEGREES)
DEW_POINT = Quantity("a dew point", -80.0, 45.0, "°C", _DEGREES)
HUMIDITY = Quantity("a humidity", 0.0, 1.1, "(1 = saturated)", _SHARES)
WIND = Quantity("a wind", 0.0, 200.0, "km/h", _SPEEDS)
CLOUD = Quantity("a cloud cover", 0.0, 1.05, "(1 = overcast)", _SHARES)
RAIN = Quantity("rain", 0.0, 300.0, "mm", _DEPTHS)
SUN = Quantity("sunshine", -1.0, 1500.0, "W/m²", {"W/m²": _SAME, "W_m-2": _SAME, "W m-2": _SAME})
