"""What a weather source is, what it gives, and how the room says that something is missing."""

from dataclasses import dataclass
from datetime import datetime
from typing import Literal, Protocol

from slabtide.engine.pour import WeatherHour

SourceKind = Literal["forecast", "file", "hand", "none"]


class WeatherError(ValueError):
    """A weather file or entry can't be used. `str()` says what is wrong and what would be right."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What stands in the way, in words: a stable code, what is wrong, what to do about it."""

    code: str
    message: str
    do: str

    def as_json(self) -> dict[str, str]:
        """The three words as the outlook carries them."""
        return {"code": self.code, "message": self.message, "do": self.do}


@dataclass(frozen=True, slots=True)
class HourlySeries:
    """Hourly weather in order of time, on whole UTC hours, with where it comes from and since when it stands
    (`as_of`: when it was issued or loaded)."""

    hours: tuple[WeatherHour, ...]
    source: SourceKind
    label: str
    as_of: datetime | None = None


class WeatherSource(Protocol):
    """Anything that can say what the weather will be."""

    label: str

    def hourly(self, start: datetime, end: datetime) -> HourlySeries | None:
        """Hours from `start` to `end` (both aware), or None when it knows none of them."""
        ...
