"""The time somebody kept for later work, watched: does it still suit, and what is next best if not."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime
from typing import Any

from slabtide.reminders.contract import Kept, When, WorkWindow


@dataclass(frozen=True, slots=True)
class KeptTime:
    """A time kept: work, coat (1 where there is but one), and its hours, UTC."""

    work: str
    coat: int
    starts: datetime
    ends: datetime


def as_kept(
    window: WorkWindow, kept_times: Sequence[KeptTime], timeline: Mapping[str, Any] | None
) -> WorkWindow:
    """The window opening at the time kept for its work; at the next best where the weather took that away; as
    it was where none is kept."""
    mine = next((one for one in kept_times if (one.work, one.coat) == (window.what, coat_of(window))), None)
    if mine is None:
        return window
    told = _watched(mine, timeline)
    out = told["out"] if told else ()
    if not out:
        at = mine.starts
        return replace(window, opens=When(at, at, at, Kept(mine.starts, mine.ends)))
    best = told["next_best"] if told else None
    lost = Kept(mine.starts, mine.ends, out[0]["why"][0]["code"], best is not None)
    if best is None:
        return replace(window, opens=replace(window.opens, kept=lost))
    at = datetime.fromisoformat(best["from"]).astimezone(UTC)
    return replace(window, opens=When(at, at, at, lost))


def coat_of(window: WorkWindow) -> int:
    """The coat a window is for, 1 where there is but one."""
    coat = window.subject.removeprefix("coat-")
    return int(coat) if coat.isdigit() else 1


def _watched(mine: KeptTime, timeline: Mapping[str, Any] | None) -> Mapping[str, Any] | None:
    """What the engine says of these very hours; None where it was not asked about them."""
    works = ((timeline or {}).get("days_ahead") or {}).get("works") or ()
    for work in works:
        kept: Mapping[str, Any] | None = work["kept"]
        if kept is None or (work["work"], work["coat"]) != (mine.work, mine.coat):
            continue
        if datetime.fromisoformat(kept["from"]) == mine.starts:
            return kept
    return None
