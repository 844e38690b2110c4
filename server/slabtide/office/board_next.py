"""What is next of a job, by its stored reminders."""

from collections.abc import Iterable, Sequence
from datetime import UTC, datetime
from typing import Any

from slabtide.log.instants import read_instant, write_instant
from slabtide.store.tables import Reminder

_STAGES = ("heads_up", "open", "last_call", "missed")
_LAST = datetime(9999, 1, 1, tzinfo=UTC)


def next_of(rows: Iterable[Reminder], ahead: Sequence[str], now: datetime) -> dict[str, Any] | None:
    """The reminder of the work that closes first among the work still ahead ("what/subject"): its latest
    stage reached, else its first one to come."""
    groups: dict[str, list[Reminder]] = {}
    for row in _live(rows, ahead, now):
        groups.setdefault(f"{row.what}/{row.subject}", []).append(row)
    current = [_current(group, now) for group in groups.values()]
    if not current:
        return None
    row = min(current, key=lambda one: (_closes(one) or _LAST, one.due))
    return {
        "reminder": row.id,
        "what": row.what,
        "stage": row.stage,
        "due": write_instant(row.due),
        "closes": row.closes,
        "state": row.state,
    }


def turns_at(rows: Iterable[Reminder], ahead: Sequence[str], now: datetime) -> datetime | None:
    """When time alone makes another reminder the next one, or ends this one; None for never."""
    times = [at for row in _live(rows, ahead, now) for at in (row.due, row.expires) if at > now]
    return min(times, default=None)


def last_ack(rows: Iterable[Reminder]) -> dict[str, Any] | None:
    """The last time someone said they have it in hand. `by` is a person's id."""
    acked = [(row.ack["at"], row) for row in rows if row.ack and "by" in row.ack]
    if not acked:
        return None
    _, row = max(acked, key=lambda one: one[0])
    ack = row.ack or {}
    return {"what": row.what, "stage": row.stage, "by": ack["by"], "at": ack["at"], "via": ack["via"]}


def _live(rows: Iterable[Reminder], ahead: Sequence[str], now: datetime) -> list[Reminder]:
    """Those of work still ahead. Nothing is late by a surface check, which serves the times; nor by texturing
    that nobody can tick, for want of bays: that has no last call."""
    rows = list(rows)
    ticked = {row.subject for row in rows if (row.what, row.stage) == ("texture", "last_call")}
    return [
        row
        for row in rows
        if f"{row.what}/{row.subject}" in ahead
        and row.what != "check"
        and (row.what != "texture" or row.subject in ticked)
        and row.state != "cancelled"
        and row.expires > now
    ]


def _current(rows: Sequence[Reminder], now: datetime) -> Reminder:
    ordered = sorted(rows, key=lambda row: _STAGES.index(row.stage))
    reached = [row for row in ordered if row.due <= now]
    return reached[-1] if reached else ordered[0]


def _closes(row: Reminder) -> datetime | None:
    return read_instant(row.closes["early"]) if row.closes else None
