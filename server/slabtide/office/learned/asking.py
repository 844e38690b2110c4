"""Which closed jobs someone looks back on."""

import re
from collections.abc import Mapping
from dataclasses import dataclass
from datetime import date

from slabtide.json_body import MalformedError

_MONTH = re.compile(r"\d{4}-(0[1-9]|1[0-2])")
_NAMES = ("mix", "plant", "month", "from", "to")


@dataclass(frozen=True, slots=True)
class Asked:
    """Empty: no matter which. `month` as 2026-07; `first` and `last` are days, both counted in."""

    mix: str = ""
    plant: str = ""
    month: str = ""
    first: date | None = None
    last: date | None = None

    def as_json(self) -> dict[str, str | None]:
        """As it was asked."""
        days = (day.isoformat() if day else None for day in (self.first, self.last))
        return dict(zip(_NAMES, (self.mix, self.plant, self.month, *days), strict=True))


def read_asked(found: Mapping[str, str]) -> Asked:
    """The choice in `mix`, `plant`, `month`, `from` and `to`. Raises `MalformedError` naming what is none."""
    for name in found:
        if name not in _NAMES:
            raise MalformedError(f"There is no choice {name[:20]!r} here.", name[:20])
    month = found.get("month", "")
    if month and not _MONTH.fullmatch(month):
        raise MalformedError("A month is asked for as 2026-07.", "month")
    first, last = _day(found, "from"), _day(found, "to")
    if first and last and last < first:
        raise MalformedError("The last day lies before the first.", "to")
    return Asked(found.get("mix", ""), found.get("plant", ""), month, first, last)


def _day(found: Mapping[str, str], name: str) -> date | None:
    if not found.get(name):
        return None
    try:
        return date.fromisoformat(found[name])
    except ValueError as error:
        raise MalformedError("A day is asked for as 2026-07-14.", name) from error
