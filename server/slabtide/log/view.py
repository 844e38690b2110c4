"""A job's state read as a `JobView`: typed, joined and measured."""

from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any, TypeVar

from slabtide.log import model
from slabtide.log.model import PHASES, JobView
from slabtide.log.polygon import area_m2, perimeter_m
from slabtide.log.state import Entry, JobState

L = TypeVar("L", bound=model.Leaf)


def view_job(state: JobState) -> JobView:
    """The whole job, from its folded state."""
    groups = _groups(state["set"])
    slab = _slab(state["set"].get("slab"))
    bays = _bays(groups)
    placed = {load: _leaf(model.Placed, entry) for (load, part), entry in groups["loads"] if part == "placed"}
    loads = _loads(groups, placed, bays, slab)
    opened = _one(model.Opened, state["set"].get("job"))
    cuts = _items(model.Cut, state, "cuts")
    parts: dict[str, Any] = {
        "id": state["job"],
        "name": opened.name if opened else "",
        "opened": opened,
        "slab": slab,
        "mix": _one(model.Mix, state["set"].get("mix")),
        "order": _one(model.Order, state["set"].get("order")),
        "crew": _one(model.Crew, state["set"].get("crew")),
        "bays": bays,
        "loads": loads,
        "unticketed": _unticketed(placed, loads),
        "checks": _items(model.Check, state, "checks"),
        "weather_days": _weather_days(state["set"].get("weather")),
        "weather_notes": _items(model.WeatherNote, state, "weather_notes"),
        "ticks": {
            "/".join(key): _leaf(model.Tick, entry, by=entry["author"]) for key, entry in groups["ticks"]
        },
        "forms": _points(model.FormPoint, groups["forms"]),
        "joints": tuple(
            sorted((_leaf(model.Joint, entry) for _, entry in groups["joints"]), key=lambda joint: joint.edge)
        ),
        "levels": _points(model.Level, groups["levels"]),
        "pins": _pins(groups),
        "photos": _items(model.Photo, state, "photos"),
        "cuts": cuts,
        "cut_length_m": sum(cut.length_m for cut in cuts),
        "cuts_done": any(cut.last for cut in cuts),
        "washes": _items(model.Wash, state, "washes"),
        "colours": _items(model.Colour, state, "colours"),
        "coats": _items(model.Coat, state, "coats"),
        "acks": {key[0]: _leaf(model.Ack, entry, by=entry["author"]) for key, entry in groups["acks"]},
        "snoozes": {
            key[0]: _leaf(model.Snooze, entry, by=entry["author"]) for key, entry in groups["snoozes"]
        },
        "notes": _items(model.Note, state, "notes"),
        "closed": _one(model.Closed, state["set"].get("closed")),
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


Groups = dict[str, list[tuple[tuple[str, ...], Entry]]]


def _groups(entries: Mapping[str, Entry]) -> Groups:
    """Entries by the first part of their key, each with the rest of it, in (clock, event) order."""
    groups: Groups = {
        name: []
        for name in (
            "bays",
            "loads",
            "ticks",
            "forms",
            "joints",
            "levels",
            "release",
            "pins",
            "acks",
            "snoozes",
        )
    }
    for key, entry in sorted(entries.items(), key=lambda item: (item[1]["clock"], item[1]["event"])):
        first, *rest = key.split("/")
        if rest and first in groups:
            groups[first].append((tuple(rest), entry))
    return groups


_NAMES: dict[type[model.Leaf], tuple[str, ...]] = {
    leaf: tuple(field.name for field in fields(leaf)) for leaf in model.Leaf.__subclasses__()
}


def _tupled(value: Any) -> Any:
    return tuple(_tupled(part) for part in value) if isinstance(value, list) else value


def _leaf(leaf: type[L], entry: Entry, **known: Any) -> L:
    """A leaf with its body's fields, None where the body has none."""
    body = entry["body"]
    values: dict[str, Any] = {
        name: _tupled(body.get(name.rstrip("_")))
        for name in _NAMES[leaf]
        if name not in known and name not in ("event", "at", "author")
    }
    return leaf(event=entry["event"], at=entry["at"], author=entry["author"], **values, **known)


def _one(leaf: type[L], entry: Entry | None) -> L | None:
    return _leaf(leaf, entry) if entry else None


def _items(leaf: type[L], state: JobState, collection: str) -> tuple[L, ...]:
    return tuple(_leaf(leaf, entry) for entry in state["items"].get(collection, ()))


def _points(leaf: type[L], group: list[tuple[tuple[str, ...], Entry]]) -> tuple[L, ...]:
    return tuple(_leaf(leaf, entry, id=key[0]) for key, entry in group)


def _slab(entry: Entry | None) -> model.Slab | None:
    if not entry:
        return None
    corners, thickness_m = entry["body"]["corners"], entry["body"]["thickness_m"]
    area = area_m2(corners)
    abutting = tuple(
        model.AbuttingEdge(edge=row["edge"], against=row["against"]) for row in entry["body"]["abutting"]
    )
    return _leaf(
        model.Slab,
        entry,
        abutting=abutting,
        area_m2=area,
        perimeter_m=perimeter_m(corners),
        volume_m3=area * thickness_m,
    )


def _bays(groups: Groups) -> tuple[model.Bay, ...]:
    marks: dict[str, dict[str, dict[str, model.Mark]]] = {}
    for key, entry in groups["bays"]:
        if len(key) == 3:
            bay, step, mark = key
            marks.setdefault(bay, {}).setdefault(step, {})[mark] = _leaf(model.Mark, entry)
    release = {key[0]: _leaf(model.Release, entry) for key, entry in groups["release"]}
    bays = (
        _bay(key[0], entry, marks.get(key[0], {}), release.get(key[0]))
        for key, entry in groups["bays"]
        if len(key) == 1
    )
    return tuple(sorted(bays, key=lambda bay: (bay.order, bay.id)))


def _bay(
    bay: str, entry: Entry, marks: dict[str, dict[str, model.Mark]], release: model.Release | None
) -> model.Bay:
    steps = {
        step: model.Step(start=of_step.get("start"), end=of_step.get("end"))
        for step, of_step in marks.items()
    }
    ended = steps["release"].end if "release" in steps else None
    laid = release or ended
    return _leaf(
        model.Bay,
        entry,
        id=bay,
        area_m2=area_m2(entry["body"]["corners"]),
        steps=steps,
        release=release,
        release_at=laid.at if laid else None,
    )


def _loads(
    groups: Groups,
    placed: Mapping[str, model.Placed],
    bays: tuple[model.Bay, ...],
    slab: model.Slab | None,
) -> tuple[model.Load, ...]:
    areas: dict[str, float] = {}
    for bay in bays:
        if bay.load:
            areas[bay.load] = areas.get(bay.load, 0.0) + bay.area_m2
    loads = []
    for (load, part), entry in groups["loads"]:
        if part == "ticket":
            poured = placed.get(load)
            area = areas.get(load) or (poured.area_m2 if poured else None)
            if area is None and slab:
                area = entry["body"]["volume_m3"] / slab.thickness_m
            loads.append(_leaf(model.Load, entry, id=load, placed=poured, area_m2=area))
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
    return tuple(_leaf(model.WeatherDay, {**entry, "body": day}) for day in days)


def _pins(groups: Groups) -> tuple[model.Pin, ...]:
    closed = {pin: _leaf(model.PinClosed, entry) for (pin, part), entry in groups["pins"] if part == "closed"}
    return tuple(
        _leaf(model.Pin, entry, id=pin, open=pin not in closed, closed=closed.get(pin))
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
