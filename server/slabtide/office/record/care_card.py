"""The care card: when to walk, drive, wash and reseal, and what to expect of the first year."""

from datetime import date, datetime, timedelta

from slabtide.log.instants import read_instant
from slabtide.office.record.care import CareSettings, care_for
from slabtide.office.record.facts import placing
from slabtide.office.record.pages import Writing
from slabtide.office.record.paper import SOFT, WARN
from slabtide.office.record.table import table

_DAY_H = 24
_YEAR_MONTHS = 12


def care_card(page: Writing) -> None:
    """On a page of its own, to hang up: dates counted from placing and from the last coat of sealer."""
    words, span, care = page.words, placing(page.view), care_for(page.view)
    placed = page.moments.local(span.ends) if span else None
    page.paper.heading(words("care.title"), keep_mm=150)
    page.paper.paragraph(words("care.marks"), 9, WARN, "B")
    if placed is None:
        page.paper.paragraph(words("care.unplaced"), 9, SOFT)
    else:
        page.paper.paragraph(words("care.from.placing", day=page.moments.day(placed.date())), 9, SOFT)
    table(page.paper, (words("care.do"), words("care.when")), _rows(page, care, placed), bold_first=True)
    keys = ("care.winter", "care.pressure", "care.water", "care.sealing")
    page.paper.points([words(key) for key in keys])
    page.paper.heading(words("expect.title"), keep_mm=24)
    page.paper.points([words(key) for key in ("expect.colour", "expect.cracks", "expect.bloom")])


def _rows(page: Writing, care: CareSettings, placed: datetime | None) -> list[tuple[str, str]]:
    words = page.words
    waits = {"walk": care.walk_h, "furniture": care.furniture_h, "drive": care.drive_h, "heavy": care.heavy_h}
    rows = [
        (words(f"care.{what}"), _marked(page, care, f"{what}_h", _from(page, what, placed, hours)))
        for what, hours in waits.items()
    ]
    sealed = words("care.sealed.when", walk=care.sealer_walk_h, drive=care.sealer_drive_h)
    rows.append((words("care.sealed"), _marked(page, care, "sealer_walk_h", sealed)))
    return rows + _sealed(page, care)


def _marked(page: Writing, care: CareSettings, name: str, when: str) -> str:
    """What nobody set for this job says that it is common practice."""
    return when if name in care.own else f"{when} {page.words('care.usual')}"


def _from(page: Writing, what: str, placed: datetime | None, hours: float) -> str:
    days = round(hours / _DAY_H, 2)
    if not days.is_integer():
        return _from_hours(page, placed, hours)
    if placed is None:
        return page.words("care.days", days=int(days))
    day = page.moments.plain_day(placed.date() + timedelta(days))
    return page.words(f"care.{what}.when", day=day, days=int(days))


def _from_hours(page: Writing, placed: datetime | None, hours: float) -> str:
    if placed is None:
        return page.words("care.hours", hours=f"{hours:g}")
    moment = placed + timedelta(hours=hours)
    at = f"{page.moments.plain_day(moment.date())}, {page.moments.time(moment)}"
    return page.words("care.hours.when", at=at, hours=f"{hours:g}")


def _sealed(page: Writing, care: CareSettings) -> list[tuple[str, str]]:
    words, days = page.words, f"{care.wash_days:g}"
    look = words("care.look.when", months=care.look_each_months)
    if not page.view.coats:
        wash, reseal = words("care.wash.unsealed", days=days), _reseal(page, care, None)
    else:
        sealed = page.moments.local(max(read_instant(coat.at) for coat in page.view.coats)).date()
        day = page.moments.plain_day(sealed + timedelta(care.wash_days))
        wash, reseal = words("care.wash.when", day=day, days=days), _reseal(page, care, sealed)
    return [
        (words("care.wash"), _marked(page, care, "wash_days", wash)),
        (words("care.look"), _marked(page, care, "look_each_months", look)),
        (words("care.reseal"), _marked(page, care, "reseal_months", reseal)),
    ]


def _reseal(page: Writing, care: CareSettings, sealed: date | None) -> str:
    """In years where they are whole, else in months; the first time by year."""
    low, high = care.reseal_months
    whole = low % _YEAR_MONTHS == 0 and high % _YEAR_MONTHS == 0
    unit = "years" if whole else "months"
    over = _YEAR_MONTHS if whole else 1
    said = {"low": _plain(low / over), "high": _plain(high / over)}
    span = "one" if low == high else "range"
    if sealed is None:
        return page.words(f"care.reseal.unsealed.{unit}.{span}", **said)
    first, last = (_year_after(sealed, months) for months in (low, high))
    if first == last:
        return page.words(f"care.reseal.{unit}.one", first=first, **said)
    return page.words(f"care.reseal.{unit}.range", first=first, last=last, **said)


def _year_after(day: date, months: float) -> int:
    return day.year + int((day.month - 1 + months) // _YEAR_MONTHS)


def _plain(number: float) -> float:
    return int(number) if number == int(number) else round(number, 1)
