"""The shape of a job's folded state; the phone's fold writes the same."""

from collections.abc import Mapping
from typing import Any, TypedDict


class Entry(TypedDict):
    """An event as the state holds it."""

    event: str
    at: str
    author: str
    device: str
    clock: str
    body: Mapping[str, Any]
    kind: str


class JobState(TypedDict):
    """What a job's events add up to."""

    job: str
    set: dict[str, Entry]
    items: dict[str, list[Entry]]
