"""Vectors are written short: what their events share is filled in here, and the same way on the phone."""

from collections.abc import Callable
from typing import Any

import pytest

from slabtide.log.envelope import Event

Fill = Callable[[list[dict[str, Any]]], list[Event]]


def filled(short: dict[str, Any]) -> Event:
    device = short["clock"].rpartition("-")[2]
    shared = {"job": "J", "device": device, "author": f"person-{device}", "at": "2026-07-14T12:00:00.000Z"}
    return Event.trusted({**shared, **short})


@pytest.fixture
def fill() -> Fill:
    """Turns a vector's short events into whole ones."""
    return lambda events: [filled(event) for event in events]
