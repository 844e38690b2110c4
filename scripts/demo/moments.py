"""The demo's one clock: every time of every job is set relative to the moment it was loaded."""

import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta

from scripts.demo.phone import Phone, instant


@dataclass(frozen=True)
class Moments:
    """`now` is when the demo was loaded; the company's id seeds every other id."""

    now: datetime
    company_id: str

    def ago(self, *, hours: float = 0, minutes: float = 0) -> datetime:
        return self.now - timedelta(hours=hours, minutes=minutes)

    def ago_text(self, *, hours: float = 0, minutes: float = 0) -> str:
        return instant(self.ago(hours=hours, minutes=minutes))

    def id(self, *parts: str) -> str:
        """The same id each time for the same thing, e.g. `id("patio", "load", "1")`."""
        return str(uuid.uuid5(uuid.UUID(self.company_id), "/".join(("demo", *parts))))


@dataclass(frozen=True)
class Crew:
    """Who holds which phone."""

    foreman: Phone
    finisher: Phone
    second: Phone
    desk: Phone

    def all(self) -> tuple[Phone, ...]:
        return (self.foreman, self.finisher, self.second, self.desk)
