"""The pour in the file: loads, windows, bays step by step, surface checks."""

from slabtide.log.instants import read_instant
from slabtide.log.kinds.pour import STEPS
from slabtide.log.model import Bay, Load
from slabtide.office.record.facts import hour_at
from slabtide.office.record.file_windows import write_windows
from slabtide.office.record.measures import duration
from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.table import table


def write_loads(page: Writing) -> None:
    """Loads, windows, bays and checks."""
    _loads(page)
    write_windows(page)
    _bays(page)
    _checks(page)


def _loads(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.heading(words("loads.title"))
    if not view.loads and not view.unticketed:
        page.paper.paragraph(words("loads.none"), colour=SOFT)
        return
    tickets = ["short", "ticket", "batched", "volume", "slump", "temp", "water", "bags", "by"]
    table(
        page.paper,
        [words(f"load.{name}") for name in tickets],
        [_ticket_row(page, load) for load in view.loads],
        more=words("more.rows"),
        bold_first=True,
    )
    placed = ["short", "placed", "haul", "area", "bays", "air", "by"]
    rows = [_placed_row(page, load) for load in view.loads if load.placed]
    for one in view.unticketed:
        span = page.moments.span(one.placed.from_, one.placed.to)
        area = page.amount(one.placed.area_m2, "area")
        air = _air(page, one.placed.from_)
        rows.append((words("load.untold"), span, "", area, "", air, page.name(one.placed.author)))
    table(
        page.paper, [words(f"load.{name}") for name in placed], rows, more=words("more.rows"), bold_first=True
    )


def _ticket_row(page: Writing, load: Load) -> tuple[str, ...]:
    bags = load.colour_bags
    return (
        str(load.number),
        load.ticket or "",
        page.moments.stamp(load.batched_at),
        page.amount(load.volume_m3, "volume"),
        page.amount(load.slump_mm, "slump"),
        page.amount(load.concrete_temp_c, "temp"),
        page.amount(load.water_added_l, "water"),
        "" if bags is None else page.words("load.bags.of", bags=int(bags) if bags == int(bags) else bags),
        page.name(load.author),
    )


def _placed_row(page: Writing, load: Load) -> tuple[str, ...]:
    assert load.placed is not None
    haul_s = (read_instant(load.placed.to) - read_instant(load.batched_at)).total_seconds()
    labels = ", ".join(bay.label for bay in page.view.bays if bay.load == load.id)
    return (
        str(load.number),
        page.moments.span(load.placed.from_, load.placed.to),
        duration(haul_s / 60),
        page.amount(load.area_m2, "area"),
        labels,
        _air(page, load.placed.from_),
        page.name(load.placed.author),
    )


def _air(page: Writing, at: str) -> str:
    hour = hour_at(page.source.hours, read_instant(at))
    if hour is None:
        return ""
    say = page.amount
    return some(say(hour.air_temp_c, "temp"), say(hour.rh, "share"), say(hour.wind_kmh, "speed"))


def _bays(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.heading(words("bays.title"))
    if not view.bays:
        page.paper.paragraph(words("bays.none"), colour=SOFT)
        return
    rows = [row for bay in view.bays for row in _bay_rows(page, bay)]
    names = ("bay.short", "area", "load.short", "bay.step", "bay.start", "bay.end", "bay.who", "bay.note")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"), bold_first=True)


def _bay_rows(page: Writing, bay: Bay) -> list[tuple[str, ...]]:
    words, moments = page.words, page.moments
    load = next((str(one.number) for one in page.view.loads if one.id == bay.load), "")
    head = (bay.label, page.amount(bay.area_m2, "area"), load)
    rows: list[tuple[str, ...]] = []
    for name in STEPS:
        step = bay.steps.get(name)
        if step is None:
            continue
        start, end = step.start, step.end
        who = some(*dict.fromkeys(page.name(mark.author) for mark in (start, end) if mark))
        note = some(start.note if start else "", end.note if end else "")
        begins, ends = (moments.stamp(mark.at) if mark else "" for mark in (start, end))
        rows.append((*head, words(f"step.{name}"), begins, ends, who, note))
    if bay.release:
        kind = words(f"release.{bay.release.what}") if bay.release.what else ""
        what = some(kind, page.amount(bay.release.mass_kg, "mass"), bay.release.product)
        laid = moments.stamp(bay.release.at)
        rows.append((*head, words("step.release.laid"), laid, "", page.by(bay.release), what))
    return rows or [(*head, words("windows.open"), "", "", "", "")]


def _checks(page: Writing) -> None:
    words = page.words
    page.paper.heading(words("checks.title"))
    if not page.view.checks:
        page.paper.paragraph(words("checks.none"), colour=SOFT)
        return
    rows = [
        (
            page.moments.stamp(check.at),
            some(page.load(check.load), page.bay(check.bay)),
            words(f"check.{check.kind}"),
            page.amount(check.depth_mm, "footprint"),
            page.measures.coordinates(check.spot) if check.spot else "",
            page.name(check.author),
        )
        for check in sorted(page.view.checks, key=lambda check: check.at)
    ]
    names = ("when", "where", "what", "reading", "forms.spot", "who")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"))
