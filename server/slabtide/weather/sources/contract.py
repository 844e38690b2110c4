"""What a forecast source is asked, what it gives, and how it says that it can't."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Protocol

from slabtide.engine.pour import WeatherHour
from slabtide.weather.contract import HourlySeries

LONGEST_AHEAD = timedelta(days=16)
LONGEST_BACK = timedelta(days=3)


class SourceError(Exception):
    """A source gave no forecast. `why` completes "it ...", for people; `retry_after` is the source's own
    wish; `outside`: it never will, since it does not cover the place."""

    def __init__(self, why: str, *, retry_after: timedelta | None = None, outside: bool = False) -> None:
        super().__init__(why)
        self.why = why
        self.retry_after = retry_after
        self.outside = outside


class UnreachableError(SourceError):
    """Nothing answered, or far too slowly: asking about another place would end the same way."""


@dataclass(frozen=True, slots=True)
class Place:
    """Where a forecast is for, to two decimals of a degree (about 1 km): a forecast's grid is no finer, and
    nobody outside needs to know the address. North and east positive."""

    latitude_deg: float
    longitude_deg: float

    @classmethod
    def near(cls, latitude_deg: float, longitude_deg: float) -> "Place":
        """The place a position falls in."""
        return cls(round(latitude_deg, 2) + 0.0, round(longitude_deg, 2) + 0.0)  # + 0.0: no minus zero

    @property
    def key(self) -> str:
        """Its name in the database.

        >>> Place.near(36.1, -79.949).key
        '36.10,-79.95'
        """
        return f"{self.latitude_deg:.2f},{self.longitude_deg:.2f}"


@dataclass(frozen=True, slots=True)
class Marks:
    """What a source said last time that saves it work now: validators, and where it keeps the place."""

    etag: str | None = None
    last_modified: str | None = None
    grid: str | None = None


@dataclass(frozen=True, slots=True)
class Forecast:
    """Hours from one source, as a `WeatherSource`. `issued_at`: when it was made; `good_for`: how long not to
    ask again; `derived`: what the source lacks and we worked out, in words."""

    hours: tuple[WeatherHour, ...]
    label: str
    issued_at: datetime | None
    marks: Marks
    good_for: timedelta
    derived: tuple[str, ...] = ()

    def hourly(self, start: datetime, end: datetime) -> HourlySeries | None:
        """The hours from `start` to `end`, or None when none of them fall there."""
        hours = tuple(hour for hour in self.hours if start <= hour.at <= end)
        return HourlySeries(hours, "forecast", self.label, self.issued_at) if hours else None


@dataclass(frozen=True, slots=True)
class Unchanged:
    """The source has nothing newer than the marks it was shown."""

    good_for: timedelta


class ForecastSource(Protocol):
    """A service that forecasts. `name` keys the cache; `label` is shown to people."""

    @property
    def name(self) -> str: ...

    @property
    def label(self) -> str: ...

    def fetch(self, place: Place, marks: Marks, now: datetime) -> Forecast | Unchanged:
        """Ask once. Raises: SourceError, and nothing else, whatever the answer."""
        ...
