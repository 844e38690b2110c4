"""The form for the file: everything on record, by load, with who and when."""

from slabtide.log.checklists import slope_plane
from slabtide.office.record.facts import placed_loads, placed_volume_m3
from slabtide.office.record.file_after import write_after
from slabtide.office.record.file_checks import write_checklists, write_measures
from slabtide.office.record.file_loads import write_loads
from slabtide.office.record.file_weather import write_weather
from slabtide.office.record.pages import Writing, some
from slabtide.office.record.paper import SOFT
from slabtide.office.record.photo_pages import photo_pages
from slabtide.office.record.plan import LEAST_MM, PlanMarks, draw_plan
from slabtide.office.record.table import table

MOST_PHOTOS = 60


def write_for_file(page: Writing) -> None:
    """All pages of the job file."""
    view, words = page.view, page.words
    page.paper.headline(words("title.file", name=view.name or view.id), page.source.company)
    _job(page)
    _slab(page)
    _plan(page)
    write_loads(page)
    write_checklists(page)
    write_measures(page)
    write_after(page)
    write_weather(page)
    _acks(page)
    _notes(page)
    photo_pages(page, MOST_PHOTOS, abreast=3, high_mm=42)
    page.paper.paragraph(words("caution"), 8.5, SOFT)


def _job(page: Writing) -> None:
    view, words, opened = page.view, page.words, page.view.opened
    page.paper.heading(words("job.title"))
    rows: list[tuple[str, str | None]] = [(words("job.id"), view.id)]
    if opened:
        rows += [
            (words("use"), words(f"use.{opened.use}")),
            (words("customer"), opened.customer),
            (words("place"), opened.place),
            (words("job.where"), f"{opened.latitude_deg:g}°, {opened.longitude_deg:g}°"),
            (words("job.zone"), opened.time_zone),
            (words("job.opened"), _when_who(page, opened.at, opened.author)),
        ]
    rows += [(words("job.phase"), words(f"phase.{view.phase}"))]
    closed = view.closed
    rows += [
        (words("job.closed"), _when_who(page, closed.at, closed.author) if closed else words("job.open")),
        (words("job.outcome"), closed.outcome if closed else None),
    ]
    page.paper.facts(rows)


def _when_who(page: Writing, at: str, who: str) -> str:
    return page.words("job.by", at=page.moments.stamp(at), who=page.name(who))


def _slab(page: Writing) -> None:
    view, words, say = page.view, page.words, page.amount
    page.paper.heading(words("slab.title"))
    rows = [*_drawn(page), *_mix(page), *_order(page)]
    if placed_loads(view):
        done = words("concrete.of", volume=say(placed_volume_m3(view), "volume"), loads=placed_loads(view))
        rows.append((words("concrete"), done))
    page.paper.facts([*rows, *_crew(page)])
    if not rows:
        page.paper.paragraph(words("unknown"), colour=SOFT)


def _drawn(page: Writing) -> list[tuple[str, str | None]]:
    slab, words, say = page.view.slab, page.words, page.amount
    if slab is None:
        return []
    return [
        (words("area"), say(slab.area_m2, "area")),
        (words("perimeter"), page.measures.length(slab.perimeter_m)),
        (words("thickness"), say(slab.thickness_m, "thickness")),
        (words("slab.volume"), say(slab.volume_m3, "volume")),
        (words("slab.insulation"), say(slab.insulation_r_m2k_w, "insulation")),
        (words("slab.ground"), say(slab.ground_temp_c, "temp")),
        (words("slab.absorb"), say(slab.solar_absorptivity, "share")),
        (words("slab.uncut"), page.measures.length(slab.uncut_length_m) if slab.uncut_length_m else None),
    ]


def _mix(page: Writing) -> list[tuple[str, str | None]]:
    mix, words, say = page.view.mix, page.words, page.amount
    if mix is None:
        return []
    spread = f" ± {mix.set_factor_sd:g}" if mix.set_factor_sd else ""
    return [
        (words("mix.name"), some(mix.name, mix.colour)),
        (words("mix.cement"), say(mix.cement_kg_m3, "cement")),
        (words("mix.w_cm"), f"{mix.w_cm:g}"),
        (words("mix.design"), say(mix.design_strength_mpa, "strength")),
        (words("mix.stone"), words(f"stone.{mix.aggregate}")),
        (words("mix.set_factor"), f"{mix.set_factor:g}{spread}" if mix.set_factor else None),
        (words("mix.note"), mix.note),
    ]


def _order(page: Writing) -> list[tuple[str, str | None]]:
    order, words, say = page.view.order, page.words, page.amount
    if order is None:
        return []
    volume, at = say(order.volume_m3, "volume"), page.moments.stamp(order.pour_at)
    return [
        (words("order"), words("order.of", volume=volume, loads=order.loads, at=at)),
        (words("supplier"), order.supplier),
        (words("order.slump"), say(order.slump_mm, "slump") or None),
        (words("colour"), order.colour),
    ]


def _crew(page: Writing) -> list[tuple[str, str | None]]:
    crew, words = page.view.crew, page.words
    if crew is None:
        return []
    mats = words("crew.mats", mats=crew.mats, area=page.amount(crew.mat_area_m2, "area")) if crew.mats else ""
    lay = words("crew.lay", minutes=f"{crew.lay_minutes:g}") if crew.lay_minutes else ""
    lead = words("crew.lead", name=page.name(crew.lead)) if crew.lead else ""
    length = (
        words("crew.saw.length", length=page.measures.length(crew.saw_length_m)) if crew.saw_length_m else ""
    )
    rate = crew.saw_rate_m_per_min
    speed = words("crew.saw.rate", length=page.measures.length(rate)) if rate else ""
    saw = some(words(f"saw.{crew.saw_kind}") if crew.saw_kind else "", length, speed)
    people = words("crew.people", people=crew.people)
    return [(words("crew"), some(people, mats, lay, lead)), (words("crew.saw"), saw or None)]


def _plan(page: Writing) -> None:
    page.paper.heading(page.words("plan.title"), keep_mm=LEAST_MM if page.view.slab else 10)
    if page.view.slab is None:
        page.paper.paragraph(page.words("plan.none"), colour=SOFT)
        return
    marks = PlanMarks(page.pin_numbers, levels=True, plane=slope_plane(page.view))
    draw_plan(page.paper, page.view, page.view.slab, page.measures, page.words, marks, high_mm=125)


def _acks(page: Writing) -> None:
    words = page.words
    page.paper.heading(words("acks.title"))
    rows = []
    for reminder, ack in sorted(page.view.acks.items(), key=lambda pair: (pair[1].at, pair[0])):
        line = page.source.reminders.get(reminder)
        what = (
            f"{words(f'work.{line.what}')}, {words(f'stage.{line.stage}')}" if line else words("ack.unknown")
        )
        rows.append((page.moments.stamp(ack.at), what, words(f"via.{ack.via}"), page.name(ack.author)))
    if not rows:
        page.paper.paragraph(words("acks.none"), colour=SOFT)
    head = (words("when"), words("ack.what"), words("ack.via"), words("who"))
    table(page.paper, head, rows, more=words("more.rows"))


def _notes(page: Writing) -> None:
    words = page.words
    page.paper.heading(words("notes.title"))
    rows = [(page.moments.stamp(note.at), note.text, page.name(note.author)) for note in page.view.notes]
    if not rows:
        page.paper.paragraph(words("notes.none"), colour=SOFT)
    table(page.paper, (words("when"), words("note"), words("who")), rows, more=words("more.rows"))
