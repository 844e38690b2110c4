"""Times as the job's own wall clock shows them, in words of the reader."""

from datetime import date, datetime
from zoneinfo import ZoneInfo

from slabtide.log.instants import read_instant
from slabtide.office.record.contract import Language

_MONTHS: dict[Language, tuple[str, ...]] = {
    "en": (
        "January", "February", "March", "April", "May", "June",
        "July", "August", "September", "October", "November", "December",
    ),
    "es": (
        "enero", "febrero", "marzo", "abril", "mayo", "junio",
        "julio", "agosto", "septiembre", "octubre", "noviembre", "diciembre",
    ),
}  # fmt: skip
_DAYS: dict[Language, tuple[str, ...]] = {
    "en": ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday"),
    "es": ("lunes", "martes", "miércoles", "jueves", "viernes", "sábado", "domingo"),
}


class Moments:
    """Dates and times in one zone and language."""

    def __init__(self, language: Language, time_zone: str) -> None:
        self.language = language
        self.time_zone = time_zone
        self._zone = ZoneInfo(time_zone)

    def local(self, moment: datetime | str) -> datetime:
        """The moment on the job's wall clock."""
        read = read_instant(moment) if isinstance(moment, str) else moment
        return read.astimezone(self._zone)

    def time(self, moment: datetime | str) -> str:
        """`8:10 am`"""
        local = self.local(moment)
        return f"{(local.hour + 11) % 12 + 1}:{local.minute:02d}\u00a0{'am' if local.hour < 12 else 'pm'}"

    def day(self, moment: datetime | str | date) -> str:
        """`Tuesday, July 14, 2026`, `martes, 14 de julio de 2026`"""
        found = self._date(moment)
        weekday = _DAYS[self.language][found.weekday()]
        return f"{weekday}, {self.plain_day(found)}"

    def plain_day(self, moment: datetime | str | date) -> str:
        """The same without the day of the week."""
        found = self._date(moment)
        month = _MONTHS[self.language][found.month - 1]
        if self.language == "en":
            return f"{month} {found.day}, {found.year}"
        return f"{found.day} de {month} de {found.year}"

    def stamp(self, moment: datetime | str) -> str:
        """Short, for tables: `Jul 14, 8:10 am`, `14 jul, 8:10 am`."""
        local = self.local(moment)
        month = _MONTHS[self.language][local.month - 1][:3]
        day = f"{month} {local.day}" if self.language == "en" else f"{local.day} {month}"
        return f"{day}, {self.time(local)}".replace(" ", "\u00a0", 1)

    def span(self, begins: str, ends: str) -> str:
        """`8:10 to 8:35 am` on one day; both in full otherwise. The word between is the reader's."""
        to = "to" if self.language == "en" else "a"
        first, last = self.local(begins), self.local(ends)
        if first.date() != last.date():
            return f"{self.stamp(begins)} {to} {self.stamp(ends)}"
        return f"{self.stamp(begins)} {to} {self.time(ends)}"

    def _date(self, moment: datetime | str | date) -> date:
        if isinstance(moment, date) and not isinstance(moment, datetime):
            return moment
        return self.local(moment).date()
