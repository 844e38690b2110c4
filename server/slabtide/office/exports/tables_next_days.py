"""Tables of the next days: cuts planned and tested, products, kept times, dry tests, callbacks, care."""

from slabtide.log.model import JobView
from slabtide.office.exports.table import END, LINE, SPOT, People, Rows, Table, bay_labels, load_numbers


def _planned_cuts(view: JobView, people: People) -> Rows:
    numbers = load_numbers(view)
    for one in view.planned_cuts:
        yield (one.at, one.order, *one.from_, *one.to, one.length_m, numbers.get(one.load),
               one.made.at if one.made else None, people.get(one.author), one.event)  # fmt: skip


def _test_cuts(view: JobView, people: People) -> Rows:
    numbers, labels = load_numbers(view), bay_labels(view)
    for one in view.test_cuts:
        yield (one.at, one.result, one.saw, numbers.get(one.load), labels.get(one.bay),
               *(one.spot or (None, None)), people.get(one.author), one.event)  # fmt: skip


def _products(view: JobView, people: People) -> Rows:
    for work, one in sorted(view.products.items()):
        yield (one.at, work, one.name, one.low_c, one.high_c, one.over_dew_k, one.dry_before_h,
               one.dry_after_h, one.wind_most_kmh, one.least_age_h, one.recoat_least_h, one.recoat_most_h,
               one.coats, one.coverage_m2_per_l, people.get(one.author), one.event)  # fmt: skip


def _kept_slots(view: JobView, people: People) -> Rows:
    for one in view.kept_slots:
        yield one.at, one.work, one.coat, one.from_, one.to, people.get(one.author), one.event


def _sheet_tests(view: JobView, people: People) -> Rows:
    labels = bay_labels(view)
    for one in view.sheet_tests:
        yield (one.at, one.laid_at, one.dry, labels.get(one.bay), *(one.spot or (None, None)), one.note,
               people.get(one.author), one.event)  # fmt: skip


def _callbacks(view: JobView, people: People) -> Rows:
    labels = bay_labels(view)
    for one in view.callbacks:
        yield one.at, one.what, labels.get(one.bay), one.note, people.get(one.author), one.event


def _care(view: JobView, people: People) -> Rows:
    one = view.care
    if one:
        yield (one.at, one.walk_h, one.drive_h, one.wash_days, one.reseal_months, people.get(one.author),
               one.event)  # fmt: skip


NEXT_DAYS_TABLES: dict[str, Table] = {
    "planned_cuts": Table(("at", "order", *LINE, "length_m", "load", "made_at", *END), _planned_cuts),
    "test_cuts": Table(("at", "result", "saw", "load", "bay", *SPOT, *END), _test_cuts),
    "products": Table(
        ("at", "work", "name", "low_c", "high_c", "over_dew_k", "dry_before_h", "dry_after_h",
         "wind_most_kmh", "least_age_h", "recoat_least_h", "recoat_most_h", "coats", "coverage_m2_per_l",
         *END),
        _products,
    ),
    "kept_slots": Table(("at", "work", "coat", "from", "to", *END), _kept_slots),
    "sheet_tests": Table(("at", "laid_at", "dry", "bay", *SPOT, "note", *END), _sheet_tests),
    "callbacks": Table(("at", "what", "bay", "note", *END), _callbacks),
    "care": Table(("at", "walk_h", "drive_h", "wash_days", "reseal_months", *END), _care),
}  # fmt: skip
