"""The tables of an export: one row for each thing on record, units in the column names, SI."""

from collections.abc import Iterator

from slabtide.log.checklists import progress
from slabtide.log.model import JobView
from slabtide.office.exports.cells import Cell
from slabtide.office.exports.table import END, LINE, SPOT, People, Rows, Table
from slabtide.office.exports.tables_laid_out import LAID_OUT_TABLES, admixtures_cell
from slabtide.office.exports.tables_next_days import NEXT_DAYS_TABLES

JOB_COLUMNS = ("job", "job_name")


def _jobs(view: JobView, people: People) -> Rows:
    opened, slab, mix, order, closed = view.opened, view.slab, view.mix, view.order, view.closed
    placed = [load for load in view.loads if load.placed]
    yield (
        opened.place if opened else None,
        opened.latitude_deg if opened else None,
        opened.longitude_deg if opened else None,
        opened.time_zone if opened else None,
        opened.use if opened else None,
        opened.customer if opened else None,
        order.pour_at if order else None,
        order.volume_m3 if order else None,
        order.loads if order else None,
        order.supplier if order else None,
        order.slump_mm if order else None,
        (order.colour if order else None) or (mix.colour if mix else None),
        slab.area_m2 if slab else None,
        slab.thickness_m * 1000 if slab else None,
        view.phase,
        len(placed) + len(view.unticketed),
        sum(load.volume_m3 for load in placed),
        mix.name if mix else None,
        mix.design_strength_mpa if mix else None,
        view.cut_length_m,
        len(view.coats),
        sum(pin.open for pin in view.pins),
        opened.at if opened else None,
        closed.at if closed else None,
        closed.outcome if closed else None,
    )


def _loads(view: JobView, people: People) -> Rows:
    for load in view.loads:
        placed = load.placed
        yield (
            load.number, load.ticket, load.batched_at, load.volume_m3, load.slump_mm, load.concrete_temp_c,
            load.water_added_l, load.colour_bags, placed.from_ if placed else None,
            placed.to if placed else None, load.area_m2, load.water_allowed_l,
            admixtures_cell(load.admixtures), load.plant, people.get(load.author), load.event,
        )  # fmt: skip
    for one in view.unticketed:
        empty = (None,) * 8
        yield (*empty, one.placed.from_, one.placed.to, one.placed.area_m2, None, None, None,
               people.get(one.placed.author), one.placed.event)  # fmt: skip


def _bays(view: JobView, people: People) -> Rows:
    numbers = {load.id: load.number for load in view.loads}
    for bay in view.bays:
        for name, step in bay.steps.items():
            who = step.end or step.start
            yield (
                bay.label, bay.area_m2, numbers.get(bay.load or ""), name,
                step.start.at if step.start else None, step.end.at if step.end else None,
                people.get(who.author) if who else None, bay.id,
            )  # fmt: skip
        if not bay.steps:
            yield bay.label, bay.area_m2, numbers.get(bay.load or ""), None, None, None, None, bay.id


def _checks(view: JobView, people: People) -> Rows:
    numbers = {load.id: load.number for load in view.loads}
    labels = {bay.id: bay.label for bay in view.bays}
    for one in view.checks:
        x, y = one.spot or (None, None)
        yield (one.at, numbers.get(one.load), labels.get(one.bay or ""), one.kind, one.depth_mm, x, y,
               people.get(one.author), one.event)  # fmt: skip


def _checklists(view: JobView, people: People) -> Rows:
    labels = {bay.id: bay.label for bay in view.bays}
    for name, found in progress(view).items():
        for item in found.items:
            for row in item.rows:
                subject = labels.get(row.subject, row.subject)
                tick = view.ticks.get(f"{name}/{item.item}/{row.subject}")
                who = people.get(row.by) if row.by else None
                yield (
                    name,
                    item.item,
                    subject,
                    row.done,
                    row.have,
                    row.need,
                    row.at,
                    who,
                    tick.note if tick else None,
                )


def _forms(view: JobView, people: People) -> Rows:
    for one in view.forms:
        yield (
            one.at,
            one.label,
            *one.spot,
            one.height_m,
            one.depth_m,
            one.firm,
            people.get(one.author),
            one.event,
        )


def _joints(view: JobView, people: People) -> Rows:
    against = {row.edge: row.against for row in view.slab.abutting} if view.slab else {}
    for one in view.joints:
        yield (one.at, one.edge + 1, against.get(one.edge), one.full_depth, one.continuous, one.depth_m,
               one.note, people.get(one.author), one.event)  # fmt: skip


def _levels(view: JobView, people: People) -> Rows:
    for one in view.levels:
        yield one.at, one.label, *one.spot, one.reading_m, people.get(one.author), one.event


def _pins(view: JobView, people: People) -> Rows:
    labels = {bay.id: bay.label for bay in view.bays}
    for one in view.pins:
        closed = one.closed
        owner = one.owner
        yield (
            one.at, one.what, *one.spot, labels.get(one.bay or ""), one.note, one.photo, one.open,
            closed.at if closed else None, closed.how if closed else None, people.get(one.author),
            people.get(closed.author) if closed else None, people.get(owner.person) if owner else None,
            one.event,
        )  # fmt: skip


def _photos(view: JobView, people: People) -> Rows:
    labels = {bay.id: bay.label for bay in view.bays}
    for one in view.photos:
        yield (
            one.at,
            one.photo,
            one.caption,
            labels.get(one.bay or ""),
            one.pin,
            people.get(one.author),
            one.event,
        )


def _cuts(view: JobView, people: People) -> Rows:
    for one in view.cuts:
        yield (one.at, one.length_m, one.depth_m, one.saw, one.ravelled, *(one.from_ or (None, None)),
               *(one.to or (None, None)), bool(one.last), one.cut, people.get(one.author),
               one.event)  # fmt: skip


def _washes(view: JobView, people: People) -> Rows:
    for one in view.washes:
        yield one.at, one.method, one.contained, one.note, people.get(one.author), one.event


def _colours(view: JobView, people: People) -> Rows:
    for one in view.colours:
        yield one.at, one.product, one.area_m2, one.note, people.get(one.author), one.event


def _coats(view: JobView, people: People) -> Rows:
    for one in view.coats:
        yield one.at, one.coat, one.product, one.volume_l, one.area_m2, people.get(one.author), one.event


def _release(view: JobView, people: People) -> Rows:
    for bay in view.bays:
        if bay.release:
            laid = bay.release
            yield (laid.at, bay.label, laid.what, laid.mass_kg, laid.product,
                   people.get(laid.author), laid.event)  # fmt: skip


def _weather_notes(view: JobView, people: People) -> Rows:
    for one in view.weather_notes:
        yield (one.at, one.air_temp_c, one.rh, one.wind_kmh, one.cloud, one.raining, one.note,
               people.get(one.author), one.event)  # fmt: skip


def _weather_days(view: JobView, people: People) -> Rows:
    for day in view.weather_days:
        yield (
            day.date,
            day.low_c,
            day.high_c,
            day.rh,
            day.wind_kmh,
            day.cloud,
            people.get(day.author),
            day.event,
        )


def _notes(view: JobView, people: People) -> Rows:
    for one in view.notes:
        yield one.at, one.text, people.get(one.author), one.event


def _acks(view: JobView, people: People) -> Rows:
    for reminder, one in sorted(view.acks.items()):
        yield one.at, reminder, one.via, people.get(one.author), one.event


TABLES: dict[str, Table] = {
    "jobs": Table(
        (
            "place", "latitude_deg", "longitude_deg", "time_zone", "use", "customer", "pour_at", "volume_m3",
            "loads", "supplier", "slump_mm", "colour", "area_m2", "thickness_mm", "phase", "loads_placed",
            "volume_placed_m3", "mix", "design_strength_mpa", "cut_length_m", "coats", "open_pins",
            "opened_at", "closed_at", "outcome",
        ),
        _jobs,
    ),
    "loads": Table(
        (
            "number", "ticket", "batched_at", "volume_m3", "slump_mm", "concrete_temp_c", "water_added_l",
            "colour_bags", "placed_from", "placed_to", "area_m2", "water_allowed_l",
            "admixtures_dose", "plant", *END,
        ),
        _loads,
    ),
    "bays": Table(("bay", "area_m2", "load", "step", "started_at", "ended_at", "by", "bay_id"), _bays),
    "checks": Table(("at", "load", "bay", "kind", "depth_mm", *SPOT, *END), _checks),
    "checklists": Table(("list", "item", "subject", "done", "have", "need", "at", "by", "note"), _checklists),
    "forms": Table(("at", "point", *SPOT, "height_m", "depth_m", "firm", *END), _forms),
    "joints": Table(
        ("at", "side", "against", "full_depth", "continuous", "depth_m", "note", *END), _joints
    ),
    "levels": Table(("at", "point", *SPOT, "reading_m", *END), _levels),
    "pins": Table(
        ("at", "what", *SPOT, "bay", "note", "photo", "open", "closed_at", "closed_how", "by", "closed_by",
         "owner", "event"),
        _pins,
    ),
    "photos": Table(("at", "photo", "caption", "bay", "pin", *END), _photos),
    "cuts": Table(
        ("at", "length_m", "depth_m", "saw", "ravelled", *LINE, "last", "planned_cut", *END),
        _cuts,
    ),
    "washes": Table(("at", "method", "contained", "note", *END), _washes),
    "colours": Table(("at", "product", "area_m2", "note", *END), _colours),
    "coats": Table(("at", "coat", "product", "volume_l", "area_m2", *END), _coats),
    "release": Table(("at", "bay", "what", "mass_kg", "product", *END), _release),
    "weather_notes": Table(
        ("at", "air_temp_c", "rh_0_to_1", "wind_kmh", "cloud_0_to_1", "raining", "note", *END),
        _weather_notes,
    ),
    "weather_days": Table(
        ("date", "low_c", "high_c", "rh_0_to_1", "wind_kmh", "cloud_0_to_1", *END), _weather_days
    ),
    "notes": Table(("at", "text", *END), _notes),
    "acks": Table(("at", "reminder", "via", *END), _acks),
    **LAID_OUT_TABLES,
    **NEXT_DAYS_TABLES,
}  # fmt: skip


def head_of(name: str) -> tuple[str, ...]:
    """The columns of a table's file. Jobs carry their own name as `name`, so that the list can be read in."""
    names = ("job", "name") if name == "jobs" else JOB_COLUMNS
    return (*names, *TABLES[name].columns)


def rows_of(name: str, view: JobView, people: People) -> Iterator[tuple[Cell, ...]]:
    """The rows of one job in a table's file."""
    for row in TABLES[name].rows(view, people):
        yield (view.id, view.name, *row)
