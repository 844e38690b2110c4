"""The checklists with who ticked what when, and the measurements of forms, joints and levels."""

from slabtide.log.checklist_items import NEEDS
from slabtide.log.checklists import ItemProgress, Progress, Row, progress, slope_plane
from slabtide.log.slope import Plane, below_plane_m, fall_away_percent
from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.table import table


def write_checklists(page: Writing) -> None:
    """All six lists, every item with its state."""
    words = page.words
    page.paper.heading(words("lists.title"))
    for name, found in progress(page.view).items():
        title = words("list.of", name=words(f"list.{name}"), done=found.done, total=found.total)
        page.paper.subheading(title)
        head = [words(key) for key in ("list.item", "list.for", "list.state", "when", "who", "note")]
        table(page.paper, head, _list_rows(page, name, found), more=words("more.rows"))


def _list_rows(page: Writing, name: str, found: Progress) -> list[tuple[str, ...]]:
    return [
        (
            page.words.item(name, item.item),
            _subject(page, item, row),
            _state(page, item, row),
            page.moments.stamp(row.at) if row.at else "",
            page.name(row.by) if row.by else "",
            _note(page, name, item, row),
        )
        for item in found.items
        for row in item.rows
    ]


def _subject(page: Writing, item: ItemProgress, row: Row) -> str:
    if not row.subject:
        return ""
    return page.bay(row.subject) if item.per == "bay" else page.side(int(row.subject))


def _state(page: Writing, item: ItemProgress, row: Row) -> str:
    words, measures = page.words, page.measures
    done = words("list.done" if row.done else "list.undone")
    if row.have is None or item.counted == "tick" or item.counted.startswith("joint"):
        return done
    if item.counted == "low_spots":
        have, need = measures.short(max(row.have, 0.0)), measures.short(row.need)
        return f"{done}: {words('list.deepest', have=have, need=need)}"
    if item.counted == "fall_away":
        have, need = measures.say(row.have, "percent"), measures.say(row.need, "percent")
        return f"{done}: {words('list.fall', have=have, need=need)}"
    if row.event:
        return done
    return f"{done}: {words('list.have', have=f'{row.have:g}', need=f'{row.need:g}')}"


def _note(page: Writing, name: str, item: ItemProgress, row: Row) -> str:
    tick = page.view.ticks.get(f"{name}/{item.item}/{row.subject}")
    return (tick.note or "") if tick else ""


def write_measures(page: Writing) -> None:
    """Form points, isolation joints, level shots with their plane."""
    page.paper.heading(page.words("measures.title"))
    _forms(page)
    _edges(page)
    _levels(page)


def _forms(page: Writing) -> None:
    words = page.words
    page.paper.subheading(words("forms.title"))
    rows = [
        (
            point.label,
            page.measures.coordinates(point.spot),
            page.short(point.height_m),
            page.short(point.depth_m),
            page.yes(point.firm),
            page.moments.stamp(point.at),
            page.name(point.author),
        )
        for point in page.view.forms
    ]
    if not rows:
        page.paper.paragraph(words("forms.none"), colour=SOFT)
    names = ("forms.point", "forms.spot", "forms.height", "forms.depth", "forms.firm", "when", "who")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"), bold_first=True)


def _edges(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.subheading(words("edges.title"))
    checked = {joint.edge: joint for joint in view.joints}
    sides = [row.edge for row in view.slab.abutting] if view.slab else []
    rows = []
    for edge in dict.fromkeys([*sides, *checked]):
        joint = checked.get(edge)
        if joint is None:
            rows.append((page.side(edge), words("joints.unchecked"), "", "", "", ""))
            continue
        wrong = some(
            "" if joint.full_depth else words("joints.not.depth"),
            "" if joint.continuous else words("joints.not.gaps"),
        )
        state = words("joints.not", what=wrong) if wrong else words("joints.good")
        when = page.moments.stamp(joint.at)
        depth = page.short(joint.depth_m)
        rows.append((page.side(edge), state, depth, when, page.name(joint.author), joint.note or ""))
    if not rows:
        page.paper.paragraph(words("edges.none"), colour=SOFT)
    names = ("edges.side", "list.state", "edges.depth", "when", "who", "note")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"), bold_first=True)


def _levels(page: Writing) -> None:
    view, words = page.view, page.words
    page.paper.subheading(words("levels.title"))
    if not view.levels:
        page.paper.paragraph(words("levels.none"), colour=SOFT)
        return
    plane = slope_plane(view)
    rows = [
        (
            level.label,
            page.measures.coordinates(level.spot),
            page.measures.length(level.reading_m),
            page.short(below_plane_m(plane, (*level.spot, level.reading_m))) if plane else "",
            page.moments.stamp(level.at),
            page.name(level.author),
        )
        for level in view.levels
    ]
    names = ("forms.point", "forms.spot", "levels.reading", "levels.below", "when", "who")
    table(page.paper, [words(name) for name in names], rows, more=words("more.rows"), bold_first=True)
    if plane is None:
        few = words("levels.few", have=len(view.levels), need=f"{NEEDS['level_shots']:g}")
        page.paper.paragraph(few, colour=SOFT)
    else:
        page.paper.paragraph(_plane_words(page, plane))


def _plane_words(page: Writing, plane: Plane) -> str:
    words, say, slab = page.words, page.measures.say, page.view.slab
    lines = [words("levels.fall", percent=say(plane.fall_percent, "percent"))]
    for row in slab.abutting if slab else ():
        away = fall_away_percent(plane, slab.corners, row.edge) if slab else 0.0
        key = "levels.away" if away >= 0 else "levels.toward"
        lines.append(words(key, against=row.against, percent=say(abs(away), "percent")))
    return " ".join(lines)
