"""Loads written down twice: which load each of them is in the end."""

from collections.abc import Mapping

from slabtide.log import model
from slabtide.log.leaves import Groups, leaf

Ends = Mapping[str, str]
"""The load that is kept, for each double of it."""


def ends_of(groups: Groups) -> dict[str, str]:
    """Each double's end: chains are followed, a ring counts for nothing, nor does a merge into a load that is
    not there."""
    there = {load for (load, *_), _ in groups["loads"]}
    steps = {key[0]: str(entry["body"]["into"]) for key, entry in groups["merges"]}
    steps = {load: into for load, into in steps.items() if into in there}
    steps = {load: into for load, into in steps.items() if not _comes_back(load, steps)}
    return {load: _last(load, steps) for load in steps}


def merged(groups: Groups, ends: Ends) -> tuple[model.Merged, ...]:
    """The merges that count, earliest first."""
    return tuple(
        leaf(model.Merged, entry, load=key[0], into=ends[key[0]])
        for key, entry in groups["merges"]
        if key[0] in ends
    )


def kept(load: str | None, ends: Ends) -> str | None:
    """The load that is meant, where a double is named."""
    return None if load is None else ends.get(load, load)


def _comes_back(load: str, steps: Mapping[str, str]) -> bool:
    here = steps[load]
    for _ in steps:
        if here == load:
            return True
        if here not in steps:
            return False
        here = steps[here]
    return False


def _last(load: str, steps: Mapping[str, str]) -> str:
    while load in steps:
        load = steps[load]
    return load
