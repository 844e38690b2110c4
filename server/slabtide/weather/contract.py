"""What a weather source is, what it gives, and how the room says that something is missing."""

from dataclasses import dataclass
from datetime import datetime
from typing import Any, Literal, Protocol

from slabtide.engine.pour import WeatherHour

SourceKind = Literal["forecast", "file", "hand", "none"]


class WeatherError(ValueError):
    """A weather file or entry can't be used. `str()` says what is wrong and what would be right."""


@dataclass(frozen=True, slots=True)
class Problem:
    """What stands in the way, in words: a stable code, what is wrong, what to do about it.

    `params`: what the words hold that another language needs: the number of a load, a day as ISO 8601.
    """

    code: str
    message: str
    do: str
    params: tuple[tuple[str, int | str], ...] = ()

    def as_json(self) -> dict[str, Any]:
        """The three words as the outlook carries them, with `params` for those who say it otherwise."""
        told = {"code": self.code, "message": self.message, "do": self.do}
        return told | {"params": dict(self.params)} if self.params else told


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
