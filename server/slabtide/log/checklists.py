"""How far each of the six checklists is, counted from a job's view."""

from collections.abc import Callable, Iterable
from dataclasses import dataclass

from slabtide.log.checklist_items import CHECKLISTS, NEEDS, Item
from slabtide.log.model import Bay, JobView, Leaf, Pin
from slabtide.log.slope import Plane, Shot, below_plane_m, fall_away_percent, fit_plane

ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Row:
    """One thing to do: an item for the job (subject ''), a bay id or a side's number.

    `have` of `need` says how far it is; `event`, `by` and `at` say who did it, when one event tells.
    """

    subject: str
    done: bool
    have: float | None
    need: float
    event: str | None = None
    by: str | None = None
    at: str | None = None


@dataclass(frozen=True, slots=True)
class ItemProgress:
    """An item with its rows."""

    item: str
    per: str
    counted: str
    done: int
    total: int
    rows: tuple[Row, ...]


@dataclass(frozen=True, slots=True)
class Progress:
    """A list: rows done of rows in all, and its items."""

    done: int
    total: int
    items: tuple[ItemProgress, ...]


def progress(view: JobView) -> dict[str, Progress]:
    """Every list, in the order of the trade."""
    return {name: _list(view, name, items) for name, items in CHECKLISTS.items()}


def _list(view: JobView, name: str, items: Iterable[Item]) -> Progress:
    counted = tuple(_item(view, name, item) for item in items)
    return Progress(sum(item.done for item in counted), sum(item.total for item in counted), counted)


def _item(view: JobView, name: str, item: Item) -> ItemProgress:
    count = COUNTS.get(item.counted)
    rows = tuple(count(view)) if count else tuple(_ticked(view, name, item))
    done = sum(row.done for row in rows)
    return ItemProgress(item.slug, item.per, item.counted, done, len(rows), rows)


def subjects(view: JobView, per: str) -> list[str]:
    """What an item is counted for: each bay ('' where none is drawn), each abutting side, or the job ('')."""
    if per == "bay" and view.bays:
        return [bay.id for bay in view.bays]
    if per == "edge":
        return [str(row.edge) for row in view.slab.abutting] if view.slab else []
    return [""]


def isolated_sides(view: JobView) -> list[str]:
    """The sides that want an isolation joint: those against something, but for the ones cast bonded."""
    return [str(row.edge) for row in view.slab.abutting if not row.bonded] if view.slab else []


def _ticked(view: JobView, name: str, item: Item) -> Iterable[Row]:
    by_joint = name == "isolation" and item.per == "edge"
    for subject in isolated_sides(view) if by_joint else subjects(view, item.per):
        tick = view.ticks.get(f"{name}/{item.slug}/{subject}")
        yield _told(subject, tick is not None and tick.done, tick)


def _told(subject: str, done: bool, leaf: Leaf | None) -> Row:
    """A row that one event decides."""
    have = 1 if done else 0
    if leaf is None:
        return Row(subject, done, have, 1)
    return Row(subject, done, have, 1, leaf.event, leaf.author, leaf.at)


def _at_least(have: float, need: float, subject: str = "") -> Row:
    return Row(subject, have >= need, have, need)


def _form_heights(view: JobView) -> Iterable[Row]:
    yield _at_least(sum(point.height_m is not None for point in view.forms), NEEDS["form_points"])


def _form_depths(view: JobView) -> Iterable[Row]:
    yield _at_least(sum(point.depth_m is not None for point in view.forms), NEEDS["form_points"])


def _forms_firm(view: JobView) -> Iterable[Row]:
    firm = sum(point.firm is True for point in view.forms)
    yield _at_least(firm, max(len(view.forms), NEEDS["form_points"]))


def _joints(view: JobView, full_depth: bool) -> Iterable[Row]:
    checked = {str(joint.edge): joint for joint in view.joints}
    for subject in isolated_sides(view):
        joint = checked.get(subject)
        good = joint is not None and (joint.full_depth if full_depth else joint.continuous)
        yield _told(subject, good, joint)


def _level_shots(view: JobView) -> Iterable[Row]:
    yield _at_least(len(view.levels), NEEDS["level_shots"])


def _shots(view: JobView) -> list[Shot]:
    return [(level.spot[0], level.spot[1], level.reading_m) for level in view.levels]


def slope_plane(view: JobView) -> Plane | None:
    """The plane through the job's level shots, once there are enough of them."""
    shots = _shots(view)
    return fit_plane(shots) if len(shots) >= NEEDS["level_shots"] else None


def _fall_away(view: JobView) -> Iterable[Row]:
    """Each abutting side; with none, the steepest fall anywhere."""
    plane, need = slope_plane(view), NEEDS["fall_percent"]
    edges = subjects(view, "edge")
    for subject in edges or [""]:
        have = None
        if plane and view.slab and edges:
            have = fall_away_percent(plane, view.slab.corners, int(subject))
        elif plane:
            have = plane.fall_percent
        yield Row(subject, have is not None and have >= need - ROUNDING, have, need)


def _low_spots(view: JobView) -> Iterable[Row]:
    """Done when no shot lies deeper below the plane than allowed; `have` is the deepest, m."""
    plane = slope_plane(view)
    have = max(below_plane_m(plane, shot) for shot in _shots(view)) if plane else None
    yield Row("", have is not None and have <= NEEDS["low_spot_m"] + ROUNDING, have, NEEDS["low_spot_m"])


def _pins(pins: Iterable[Pin]) -> Iterable[Row]:
    found = list(pins)
    if found:
        yield _at_least(sum(not pin.open for pin in found), len(found))


def _debris_pins(view: JobView) -> Iterable[Row]:
    return _pins(pin for pin in view.pins if pin.what == "debris")


def _finish_pins(view: JobView) -> Iterable[Row]:
    return _pins(pin for pin in view.pins if pin.what != "debris")


def _by_bay(view: JobView, told_by: Callable[[Bay], Leaf | None]) -> Iterable[Row]:
    for bay in view.bays:
        leaf = told_by(bay)
        yield _told(bay.id, leaf is not None, leaf)


def _release_of(bay: Bay) -> Leaf | None:
    return bay.release or _end_of(bay, "release")


def _end_of(bay: Bay, step: str) -> Leaf | None:
    return bay.steps[step].end if step in bay.steps else None


COUNTS: dict[str, Callable[[JobView], Iterable[Row]]] = {
    "form_height": _form_heights,
    "form_depth": _form_depths,
    "form_firm": _forms_firm,
    "joint_full_depth": lambda view: _joints(view, full_depth=True),
    "joint_continuous": lambda view: _joints(view, full_depth=False),
    "level_shots": _level_shots,
    "fall_away": _fall_away,
    "low_spots": _low_spots,
    "debris_pins": _debris_pins,
    "finish_pins": _finish_pins,
    "release_laid": lambda view: _by_bay(view, _release_of),
    "touch_up_done": lambda view: _by_bay(view, lambda bay: _end_of(bay, "touch_up")),
}
"""How each kind of counting is done; what is not here is ticked by hand."""
