"""A job's state read as a `JobView`: typed, joined and measured."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass, replace
from typing import Any, TypeVar

from slabtide.log import merges, model, next_days
from slabtide.log.leaves import Groups, L, groups_of, items, leaf, one, trace
from slabtide.log.merges import Ends, kept
from slabtide.log.model import PHASES, JobView
from slabtide.log.polygon import area_m2, perimeter_m, reentrant_corners, share_of_sides
from slabtide.log.state import Entry, JobState


def view_job(state: JobState) -> JobView:
    """The whole job, from its folded state."""
    groups = groups_of(state["set"])
    ends = merges.ends_of(groups)
    slab = _slab(state["set"].get("slab"))
    bays = _bays(groups, ends)
    placed = {load: leaf(model.Placed, entry) for load, entry in _of_loads(groups, "placed", ends).items()}
    loads = _loads(_of_loads(groups, "ticket", ends), placed, bays, slab)
    opened = one(model.Opened, state["set"].get("job"))
    cuts = items(model.Cut, state, "cuts")
    parts: dict[str, Any] = {
        "id": state["job"],
        "name": opened.name if opened else "",
        "opened": opened,
        "slab": slab,
        "mix": one(model.Mix, state["set"].get("mix")),
        "order": one(model.Order, state["set"].get("order")),
        "crew": one(model.Crew, state["set"].get("crew")),
        "bays": bays,
        "loads": loads,
        "unticketed": _unticketed(placed, loads),
        "merged": merges.merged(groups, ends),
        "covers": _covers(groups, ends),
        "checks": _of_kept(items(model.Check, state, "checks"), ends),
        "weather_days": _weather_days(state["set"].get("weather")),
        "weather_notes": items(model.WeatherNote, state, "weather_notes"),
        "ticks": {
            "/".join(key): leaf(model.Tick, entry, by=entry["author"]) for key, entry in groups["ticks"]
        },
        "forms": _points(model.FormPoint, groups["forms"]),
        "joints": tuple(
            sorted((leaf(model.Joint, entry) for _, entry in groups["joints"]), key=lambda joint: joint.edge)
        ),
        "levels": _points(model.Level, groups["levels"]),
        "pins": _pins(groups),
        "photos": items(model.Photo, state, "photos"),
        "planned_cuts": next_days.planned_cuts(groups, cuts, ends),
        "test_cuts": _of_kept(items(model.TestCut, state, "test_cuts"), ends),
        "cuts": cuts,
        "cut_length_m": next_days.cut_length_m(cuts),
        "cuts_done": any(cut.last for cut in cuts),
        "products": {key[0]: leaf(model.Product, entry, work=key[0]) for key, entry in groups["products"]},
        "sheet_tests": items(model.SheetTest, state, "sheet_tests"),
        "kept_slots": next_days.kept_slots(groups),
        "washes": items(model.Wash, state, "washes"),
        "colours": items(model.Colour, state, "colours"),
        "coats": items(model.Coat, state, "coats"),
        "acks": {key[0]: leaf(model.Ack, entry, by=entry["author"]) for key, entry in groups["acks"]},
        "snoozes": {
            key[0]: leaf(model.Snooze, entry, by=entry["author"]) for key, entry in groups["snoozes"]
        },
        "notes": items(model.Note, state, "notes"),
        "closed": one(model.Closed, state["set"].get("closed")),
        "callbacks": items(model.Callback, state, "callbacks"),
        "care": one(model.Care, state["set"].get("care")),
        "aside": one(model.Aside, state["set"].get("aside")),
    }
    return JobView(**parts, phase=_phase(state["set"].get("stage"), parts))


def view_json(view: object) -> Any:
    """A view, or a part of it, as the JSON the phone has for it."""
    if is_dataclass(view):
        return {field.name.rstrip("_"): view_json(getattr(view, field.name)) for field in fields(view)}
    if isinstance(view, Mapping):
        return {key: view_json(value) for key, value in view.items()}
    if isinstance(view, tuple | list):
        return [view_json(value) for value in view]
    return view


def _points(kind: type[L], group: list[tuple[tuple[str, ...], Entry]]) -> tuple[L, ...]:
    return tuple(leaf(kind, entry, id=key[0]) for key, entry in group)


def _slab(entry: Entry | None) -> model.Slab | None:
    if not entry:
        return None
    corners, thickness_m = entry["body"]["corners"], entry["body"]["thickness_m"]
    area = area_m2(corners)
    bonded = (row["edge"] for row in entry["body"]["abutting"] if row.get("bonded"))
    return leaf(
        model.Slab,
        entry,
        area_m2=area,
        perimeter_m=perimeter_m(corners),
        volume_m3=area * thickness_m,
        bonded_share=share_of_sides(corners, bonded),
        reentrant_corners=reentrant_corners(corners),
    )


def _bays(groups: Groups, ends: Ends) -> tuple[model.Bay, ...]:
    marks: dict[str, dict[str, dict[str, model.Mark]]] = {}
    for key, entry in groups["bays"]:
        if len(key) == 3:
            bay, step, mark = key
            marks.setdefault(bay, {}).setdefault(step, {})[mark] = leaf(model.Mark, entry)
    release = {key[0]: leaf(model.Release, entry) for key, entry in groups["release"]}
    bays = (
        _bay(key[0], entry, marks.get(key[0], {}), release.get(key[0]), ends)
        for key, entry in groups["bays"]
        if len(key) == 1
    )
    return tuple(sorted(bays, key=lambda bay: (bay.order, bay.id)))


def _bay(
    bay: str,
    entry: Entry,
    marks: dict[str, dict[str, model.Mark]],
    release: model.Release | None,
    ends: Ends,
) -> model.Bay:
    steps = {
        step: model.Step(start=of_step.get("start"), end=of_step.get("end"))
        for step, of_step in marks.items()
    }
    ended = steps["release"].end if "release" in steps else None
    laid = release or ended
    return leaf(
        model.Bay,
        entry,
        id=bay,
        area_m2=area_m2(entry["body"]["corners"]),
        load=kept(entry["body"].get("load"), ends),
        steps=steps,
        release=release,
        release_at=laid.at if laid else None,
    )


def _of_loads(groups: Groups, wanted: str, ends: Ends) -> dict[str, Entry]:
    """One part of each load that is kept: its own, else the earliest written of its doubles'."""
    found = {load: entry for (load, part), entry in groups["loads"] if part == wanted}
    of_kept: dict[str, Entry] = {}
    for load, entry in found.items():
        end = ends.get(load, load)
        if end == load or end not in found:
            of_kept.setdefault(end, entry)
    return of_kept


K = TypeVar("K", model.Check, model.TestCut)


def _of_kept(found: tuple[K, ...], ends: Ends) -> tuple[K, ...]:
    """Leaves that name a double told as of the load that is kept."""
    return tuple(
        replace(told, load=ends[told.load]) if told.load and told.load in ends else told for told in found
    )


def _covers(groups: Groups, ends: Ends) -> tuple[model.Cover, ...]:
    lifted = {cover: trace(entry) for (cover, part), entry in groups["covers"] if part == "lifted"}
    return tuple(
        model.Cover(
            id=cover,
            kind=entry["body"]["cover_kind"],
            r_m2k_w=entry["body"].get("r_m2k_w"),
            load=kept(entry["body"].get("load"), ends),
            laid=trace(entry),
            lifted=lifted.get(cover),
        )
        for (cover, part), entry in groups["covers"]
        if part == "laid"
    )


def _loads(
    tickets: Mapping[str, Entry],
    placed: Mapping[str, model.Placed],
    bays: tuple[model.Bay, ...],
    slab: model.Slab | None,
) -> tuple[model.Load, ...]:
    areas: dict[str, float] = {}
    for bay in bays:
        if bay.load:
            areas[bay.load] = areas.get(bay.load, 0.0) + bay.area_m2
    loads = []
    for load, entry in tickets.items():
        poured = placed.get(load)
        area = areas.get(load) or (poured.area_m2 if poured else None)
        if area is None and slab:
            area = entry["body"]["volume_m3"] / slab.thickness_m
        loads.append(leaf(model.Load, entry, id=load, placed=poured, area_m2=area))
    return tuple(sorted(loads, key=lambda load: (load.number, load.id)))


def _unticketed(
    placed: Mapping[str, model.Placed], loads: tuple[model.Load, ...]
) -> tuple[model.Unticketed, ...]:
    ticketed = {load.id for load in loads}
    return tuple(
        model.Unticketed(id=load, placed=poured) for load, poured in placed.items() if load not in ticketed
    )


def _weather_days(entry: Entry | None) -> tuple[model.WeatherDay, ...]:
    if not entry:
        return ()
    days = sorted(entry["body"]["days"], key=lambda day: str(day["date"]))
    return tuple(leaf(model.WeatherDay, {**entry, "body": day}) for day in days)


def _pins(groups: Groups) -> tuple[model.Pin, ...]:
    closed = {pin: leaf(model.PinClosed, entry) for (pin, part), entry in groups["pins"] if part == "closed"}
    owners = {
        pin: leaf(model.PinOwner, entry)
        for (pin, part), entry in groups["pins"]
        if part == "owner" and entry["body"].get("person")
    }
    return tuple(
        leaf(model.Pin, entry, id=pin, open=pin not in closed, closed=closed.get(pin), owner=owners.get(pin))
        for (pin, part), entry in groups["pins"]
        if part == "dropped"
    )


def _phase(stage: Entry | None, parts: Mapping[str, Any]) -> str:
    """The furthest of what was said (stage.reached) and what the facts imply."""
    reached = [phase for phase in _implied(parts) if phase in PHASES]
    if stage and stage["body"].get("phase") in PHASES:
        reached.append(stage["body"]["phase"])
    return max(reached, key=PHASES.index)


def _implied(parts: Mapping[str, Any]) -> Iterator[str]:
    yield "layout"
    if parts["order"]:
        yield "ready"
    if parts["loads"] or parts["unticketed"]:
        yield "pour"
    textured = [bay.steps.get("texture") for bay in parts["bays"]]
    if any(step and step.start for step in textured):
        yield "texture"
    after = any(parts[name] for name in ("cuts", "washes", "colours", "coats"))
    if after or (textured and all(step and step.end for step in textured)):
        yield "next_days"
    if parts["closed"]:
        yield "record"
