"""What the record is asked for, and what it is made from."""

from collections.abc import Mapping
from dataclasses import dataclass, field
from datetime import datetime
from pathlib import Path
from typing import Any, Literal, cast

from slabtide.engine.pour import WeatherHour
from slabtide.errors import AppError
from slabtide.log.model import JobView

Reader = Literal["owner", "file"]
Language = Literal["en", "es"]
System = Literal["us", "metric"]
READERS: tuple[Reader, ...] = ("owner", "file")
LANGUAGES: tuple[Language, ...] = ("en", "es")
SYSTEMS: tuple[System, ...] = ("us", "metric")


@dataclass(frozen=True, slots=True)
class Asked:
    """Who the record is for, in which language and units."""

    reader: Reader = "owner"
    language: Language = "en"
    system: System = "us"


@dataclass(frozen=True, slots=True)
class ReminderLine:
    """A reminder someone saw: what it was about, at which stage."""

    what: str
    stage: str


@dataclass(frozen=True, slots=True)
class Source:
    """All that a record rests on.

    `timeline`: the last computed windows, or None; `planned`: they are of the order, not of what was placed.
    `at_placing`: the windows by load as they were told when it was placed; `afterwards`: loads whose windows
    were worked out later, as of then.
    `hours`: the weather around the pour, in order of time. `photos`: by SHA-256, those the server holds.
    `last_at`: when the latest entry happened; `entries`: how many there are.
    """

    company: str
    view: JobView
    people: Mapping[str, str]
    last_at: datetime
    entries: int
    timeline: Mapping[str, Any] | None = None
    planned: bool = False
    at_placing: Mapping[str, Mapping[str, Any]] = field(default_factory=dict)
    afterwards: frozenset[str] = frozenset()
    weather_label: str = ""
    hours: tuple[WeatherHour, ...] = ()
    photos: Mapping[str, Path] = field(default_factory=dict)
    reminders: Mapping[str, ReminderLine] = field(default_factory=dict)


def read_asked(found: Mapping[str, str]) -> Asked:
    """The choice in `for`, `language` and `units`; owner, English and US customary where left out.

    Raises `AppError` naming the choice that is none.
    """
    reader = _one_of(found, "for", READERS)
    language = _one_of(found, "language", LANGUAGES)
    system = _one_of(found, "units", SYSTEMS)
    return Asked(cast(Reader, reader), cast(Language, language), cast(System, system))


def _one_of(found: Mapping[str, str], name: str, known: tuple[str, ...]) -> str:
    value = found.get(name) or known[0]
    if value not in known:
        raise AppError(
            f"{name} is {value[:20]!r}: it should be {' or '.join(known)}.",
            "Choose one of these.",
            code="malformed",
            path=name,
        )
    return value
