"""The care card: when to walk, drive, wash and reseal, and what to expect of the first year."""

from datetime import date, timedelta

from slabtide.log.instants import read_instant
from slabtide.office.record.care import CARE, CareSettings
from slabtide.office.record.facts import placing
from slabtide.office.record.pages import Writing
from slabtide.office.record.paper import SOFT, WARN
from slabtide.office.record.table import table


def care_card(page: Writing, care: CareSettings = CARE) -> None:
    """On a page of its own, to hang up: dates counted from placing and from the last coat of sealer."""
    words, span = page.words, placing(page.view)
    placed = page.moments.local(span.ends).date() if span else None
    page.paper.heading(words("care.title"), keep_mm=150)
    page.paper.paragraph(words("care.marks"), 9, WARN, "B")
    if placed is None:
        page.paper.paragraph(words("care.unplaced"), 9, SOFT)
    else:
        page.paper.paragraph(words("care.from.placing", day=page.moments.day(placed)), 9, SOFT)
    table(page.paper, (words("care.do"), words("care.when")), _rows(page, care, placed), bold_first=True)
    keys = ("care.winter", "care.pressure", "care.water", "care.sealing")
    page.paper.points([words(key) for key in keys])
    page.paper.heading(words("expect.title"), keep_mm=24)
    page.paper.points([words(key) for key in ("expect.colour", "expect.cracks", "expect.bloom")])


def _rows(page: Writing, care: CareSettings, placed: date | None) -> list[tuple[str, str]]:
    words = page.words
    waits = {
        "walk": care.walk_after_days,
        "furniture": care.furniture_after_days,
        "drive": care.drive_after_days,
        "heavy": care.heavy_after_days,
    }
    rows = [(words(f"care.{what}"), _from(page, what, placed, days)) for what, days in waits.items()]
    rows.append(
        (
            words("care.sealed"),
            words("care.sealed.when", walk=care.sealer_walk_h, drive=care.sealer_drive_h),
        )
    )
    return rows + _sealed(page, care)


def _from(page: Writing, what: str, placed: date | None, days: int) -> str:
    if placed is None:
        return page.words("care.days", days=days)
    return page.words(f"care.{what}.when", day=page.moments.plain_day(placed + timedelta(days)), days=days)


def _sealed(page: Writing, care: CareSettings) -> list[tuple[str, str]]:
    words = page.words
    low, high = care.reseal_each_years_low, care.reseal_each_years_high
    look = (words("care.look"), words("care.look.when", months=care.look_each_months))
    if not page.view.coats:
        wash = words("care.wash.unsealed", days=care.wash_after_sealer_days)
        reseal = words("care.reseal.unsealed", low=low, high=high)
        return [(words("care.wash"), wash), look, (words("care.reseal"), reseal)]
    sealed = page.moments.local(max(read_instant(coat.at) for coat in page.view.coats)).date()
    day = page.moments.plain_day(sealed + timedelta(care.wash_after_sealer_days))
    wash = words("care.wash.when", day=day, days=care.wash_after_sealer_days)
    reseal = words("care.reseal.when", low=low, high=high, first=sealed.year + low, last=sealed.year + high)
    return [(words("care.wash"), wash), look, (words("care.reseal"), reseal)]
