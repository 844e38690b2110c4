"""Reading leaves of the view out of a state's entries."""

from collections.abc import Mapping
from dataclasses import fields
from typing import Any, TypeVar

from slabtide.log import model
from slabtide.log.state import Entry, JobState

L = TypeVar("L", bound=model.Leaf)
Groups = dict[str, list[tuple[tuple[str, ...], Entry]]]
_SECTIONS = (
    "bays",
    "loads",
    "merges",
    "covers",
    "ticks",
    "forms",
    "joints",
    "levels",
    "release",
    "pins",
    "planned_cuts",
    "products",
    "slots",
    "acks",
    "snoozes",
)
_NAMES: dict[type, tuple[str, ...]] = {
    leaf: tuple(field.name for field in fields(leaf))
    for leaf in (*model.Leaf.__subclasses__(), model.AbuttingEdge, model.AdmixtureDose)
}
_ROWS: dict[str, type] = {"abutting": model.AbuttingEdge, "admixtures": model.AdmixtureDose}


def groups_of(entries: Mapping[str, Entry]) -> Groups:
    """Entries by the first part of their key, each with the rest of it, in (clock, event) order."""
    groups: Groups = {name: [] for name in _SECTIONS}
    for key, entry in sorted(entries.items(), key=lambda item: (item[1]["clock"], item[1]["event"])):
        first, *rest = key.split("/")
        if rest and first in groups:
            groups[first].append((tuple(rest), entry))
    return groups


def leaf(kind: type[L], entry: Entry, **known: Any) -> L:
    """A leaf with its body's fields, None where the body has none."""
    body = entry["body"]
    values: dict[str, Any] = {
        name: _value(name, body.get(name.rstrip("_")))
        for name in _NAMES[kind]
        if name not in known and name not in ("event", "at", "author")
    }
    return kind(event=entry["event"], at=entry["at"], author=entry["author"], **values, **known)


def trace(entry: Entry) -> model.Leaf:
    """Where a value comes from, and no more."""
    return model.Leaf(event=entry["event"], at=entry["at"], author=entry["author"])


def one(kind: type[L], entry: Entry | None) -> L | None:
    """The leaf of a key, if something holds it."""
    return leaf(kind, entry) if entry else None


def items(kind: type[L], state: JobState, collection: str) -> tuple[L, ...]:
    """The leaves of a collection, in its order."""
    return tuple(leaf(kind, entry) for entry in state["items"].get(collection, ()))


def _value(name: str, value: Any) -> Any:
    if name in _ROWS and isinstance(value, list):
        row = _ROWS[name]
        return tuple(row(**{part: item.get(part) for part in _NAMES[row]}) for item in value)
    return _tupled(value)


def _tupled(value: Any) -> Any:
    return tuple(_tupled(part) for part in value) if isinstance(value, list) else value
