"""Pins, cuts, washes, second colours and coats of sealer, each with when and who."""

from collections.abc import Sequence

from slabtide.log.model import Pin, Spot
from slabtide.office.record.for_owner import spread_words
from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.table import Row, table


def write_after(page: Writing) -> None:
    """Pins, then the next days."""
    words = page.words
    page.paper.heading(words("pins.title"))
    rows = [_pin_row(page, pin) for pin in page.view.pins]
    _table(page, ("pin.number", "what", "where", "pin.dropped", "pin.closed", "note"), rows, "pins.none")
    page.paper.heading(words("after.title"))
    _test_cuts(page)
    _cuts(page)
    _washes(page)
    _colours(page)
    _sheets(page)
    _coats(page)
    _callbacks(page)


def _table(page: Writing, names: Sequence[str], rows: Sequence[Row], none: str) -> None:
    if not rows:
        page.paper.paragraph(page.words(none), colour=SOFT)
    heads = [page.words(name) for name in names]
    table(page.paper, heads, rows, more=page.words("more.rows"), bold_first=True)


def _pin_row(page: Writing, pin: Pin) -> tuple[str, ...]:
    words, closed = page.words, pin.closed
    seen = words("job.by", at=page.moments.stamp(pin.at), who=page.name(pin.author))
    dealt = words("pin.open")
    if closed:
        dealt = words("job.by", at=page.moments.stamp(closed.at), who=page.name(closed.author))
        dealt = f"{dealt}: {closed.how}" if closed.how else dealt
    photos = [pin.photo, *(one.photo for one in page.view.photos if one.pin == pin.id)]
    numbers = sorted({page.photo_numbers[photo] for photo in photos if photo})
    shown = [words("pin.photo", number=number) for number in numbers]
    where = some(page.bay(pin.bay), page.measures.coordinates(pin.spot))
    number = str(page.pin_numbers[pin.id])
    return (number, words(f"pin.{pin.what}"), where, seen, dealt, some(pin.note, *shown))


def _test_cuts(page: Writing) -> None:
    words = page.words
    rows = [
        (
            page.moments.stamp(one.at),
            words(f"saw.{one.saw}"),
            some(
                page.load(one.load),
                page.bay(one.bay),
                _spot(page, one.spot),
            ),
            words(f"test_cut.{one.result}"),
            page.name(one.author),
        )
        for one in sorted(page.view.test_cuts, key=lambda one: one.at)
    ]
    if rows:
        page.paper.subheading(words("test_cuts.title"))
        _table(page, ("when", "cut.saw", "where", "cut.edge", "who"), rows, "cuts.none")


def _spot(page: Writing, spot: Spot | None) -> str:
    return page.measures.coordinates(spot) if spot else ""


def _sheets(page: Writing) -> None:
    words = page.words
    rows = [
        (
            page.moments.stamp(one.at),
            page.moments.stamp(one.laid_at),
            some(page.bay(one.bay), _spot(page, one.spot)),
            words("sheet.dry" if one.dry else "sheet.damp"),
            one.note or "",
            page.name(one.author),
        )
        for one in sorted(page.view.sheet_tests, key=lambda one: one.at)
    ]
    if rows:
        page.paper.subheading(words("sheets.title"))
        _table(page, ("sheet.lifted", "sheet.laid", "where", "sheet.under", "note", "who"), rows, "cuts.none")


def _callbacks(page: Writing) -> None:
    words = page.words
    rows = [
        (
            page.moments.stamp(one.at),
            words(f"callback.{one.what}"),
            page.bay(one.bay),
            one.note or "",
            page.name(one.author),
        )
        for one in sorted(page.view.callbacks, key=lambda one: one.at)
    ]
    if rows:
        page.paper.subheading(words("callbacks.title"))
        _table(page, ("when", "what", "where", "note", "who"), rows, "cuts.none")


def _cuts(page: Writing) -> None:
    words, measures = page.words, page.measures
    page.paper.subheading(words("cuts.title"))
    rows = [
        (
            page.moments.stamp(cut.at),
            measures.length(cut.length_m),
            page.short(cut.depth_m),
            words(f"saw.{cut.saw}"),
            f"{measures.coordinates(cut.from_)} {words('to')} {measures.coordinates(cut.to)}"
            if cut.from_ and cut.to
            else "",
            some(
                "" if cut.ravelled is None else words("cut.ravelled" if cut.ravelled else "cut.clean"),
                words("cut.last") if cut.last else "",
            ),
            page.name(cut.author),
        )
        for cut in sorted(page.view.cuts, key=lambda cut: cut.at)
    ]
    names = ("when", "cut.length", "cut.depth", "cut.saw", "cut.from", "cut.edge", "who")
    _table(page, names, rows, "cuts.none")
    if rows:
        open_, done = "joints.cut.open", "joints.cut.one"
        last = rows[-1][0]
        total = measures.length(page.view.cut_length_m)
        page.paper.paragraph(words(done if page.view.cuts_done else open_, length=total, from_=last), 9)


def _washes(page: Writing) -> None:
    page.paper.subheading(page.words("washes.title"))
    rows = [
        (
            page.moments.stamp(wash.at),
            wash.method or "",
            page.yes(wash.contained),
            wash.note or "",
            page.name(wash.author),
        )
        for wash in page.view.washes
    ]
    _table(page, ("when", "wash.method", "wash.contained", "note", "who"), rows, "washes.none")


def _colours(page: Writing) -> None:
    page.paper.subheading(page.words("colours.title"))
    rows = [
        (
            page.moments.stamp(one.at),
            one.product or "",
            page.amount(one.area_m2, "area"),
            one.note or "",
            page.name(one.author),
        )
        for one in page.view.colours
    ]
    _table(page, ("when", "product", "area", "note", "who"), rows, "colours.none")


def _coats(page: Writing) -> None:
    page.paper.subheading(page.words("coats.title"))
    rows = [
        (
            str(coat.coat),
            page.moments.stamp(coat.at),
            coat.product or "",
            spread_words(page, coat),
            page.name(coat.author),
        )
        for coat in page.view.coats
    ]
    _table(page, ("coat.number", "when", "product", "volume", "who"), rows, "coats.none")
