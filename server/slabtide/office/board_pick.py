"""Which jobs of the board are asked for, in which order, and how each stands. Pure: no database, no clock.

How a job stands is told the same way by the page (`page/office/state.ts`).
"""

from collections.abc import Callable, Iterable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any, Literal

TIGHT = timedelta(minutes=90)
"""Less time left than this is worth a call (common practice, no source)."""
HELD = timedelta(hours=4)
"""Entries held on a phone longer than this are worth a call (common practice, no source)."""
MOST_AT_ONCE = 10_000
_NEVER = datetime(9999, 1, 1, tzinfo=UTC)

Standing = Literal["late", "watch", "steady"]
Sort = Literal["urgent", "name", "phase", "pour", "heard"]
SHOWS = ("all", "late", "open_hand")
SORTS: tuple[Sort, ...] = ("urgent", "name", "phase", "pour", "heard")
PHASES = ("layout", "ready", "pour", "texture", "next_days", "record")
_STANDINGS: tuple[Standing, ...] = ("late", "watch", "steady")


@dataclass(frozen=True, slots=True)
class Choice:
    """What a person asked to see. `phase` '' for every one; `search` words that all must be found."""

    search: str = ""
    phase: str = ""
    show: str = "all"
    sort: Sort = "urgent"
    down: bool = False
    skip: int = 0
    limit: int = MOST_AT_ONCE


EVERY_JOB = Choice()


@dataclass(frozen=True, slots=True)
class Seen:
    """A job as it is picked and put in order. `text`: what a search looks in."""

    job: str
    name: str
    text: str
    phase: str
    pour_at: datetime | None
    due: datetime | None
    closes: datetime | None
    in_hand: bool
    heard_at: datetime | None
    standing: Standing


def standing(row: Any, oldest_unsent: datetime | None, now: datetime) -> Standing:
    """Late: a window may have closed with its work undone. Watch: soon, not in hand, undelivered, in trouble,
    or a phone holds entries back. `row`: a board row."""
    due, closes, state = row.due, row.closes, row.next_state
    if due is not None:
        if "missed" in (row.next_stage, state) or (closes is not None and closes < now):
            return "late"
        if (closes is not None and closes - now < TIGHT) or state == "failed":
            return "watch"
        if due <= now and state != "acknowledged":
            return "watch"
    held = oldest_unsent is not None and now - oldest_unsent > HELD
    return "watch" if held or row.trouble else "steady"


def pick(jobs: Iterable[Seen], choice: Choice) -> list[Seen]:
    """The jobs that fit, in order."""
    words = choice.search.split()
    found = [job for job in jobs if _fits(job, choice, words)]
    found.sort(key=lambda job: (job.name.casefold(), job.job))
    found.sort(key=_ORDERS[choice.sort], reverse=choice.down)
    return found


def _fits(job: Seen, choice: Choice, words: list[str]) -> bool:
    if choice.phase and job.phase != choice.phase:
        return False
    if choice.show == "late" and job.standing == "steady":
        return False
    if choice.show == "open_hand" and (job.due is None or job.in_hand):
        return False
    return all(word in job.text for word in words)


def _urgency(job: Seen) -> Any:
    return _STANDINGS.index(job.standing), job.closes or job.due or _NEVER, job.pour_at or _NEVER


_ORDERS: dict[Sort, Callable[[Seen], Any]] = {
    "urgent": _urgency,
    "name": lambda job: job.name.casefold(),
    "phase": lambda job: PHASES.index(job.phase) if job.phase in PHASES else -1,
    "pour": lambda job: job.pour_at or _NEVER,
    "heard": lambda job: job.heard_at or _NEVER,
}
