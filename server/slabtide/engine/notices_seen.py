"""What notices look at: a load, its likely history and windows, and spells of time."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta

from slabtide.engine.history import History
from slabtide.engine.pour import Load
from slabtide.engine.timeline import WindowName
from slabtide.engine.windows import Band


@dataclass(frozen=True, slots=True)
class LoadView:
    """One load as the notices see it: its likely history, its windows, and [s from the weather's first hour]
    final set (or the history's end), first frost that harms it, first deep drop of its surface; whether it
    lies there already."""

    load: Load
    history: History
    bands: dict[WindowName, Band]
    final_set_s: float
    frost_s: float | None
    frost_likely: bool
    drop_s: float | None
    placed: bool = False


class Clock:
    """Seconds from the weather's first hour as times."""

    def __init__(self, anchor: datetime) -> None:
        self.anchor = anchor.astimezone(UTC)

    def at(self, seconds: float) -> datetime:
        """The time, on the whole second."""
        return self.anchor + timedelta(seconds=round(seconds))

    def seconds(self, time: datetime) -> float:
        """Seconds to a time."""
        return (time - self.anchor).total_seconds()


def spells(series: Sequence[tuple[datetime, bool]]) -> list[tuple[datetime, datetime]]:
    """First and last time of each unbroken run of true."""
    spells: list[tuple[datetime, datetime]] = []
    running = False
    for at, holds in series:
        if holds:
            start = spells.pop()[0] if running else at
            spells.append((start.astimezone(UTC), at.astimezone(UTC)))
        running = holds
    return spells
