"""A reminder put off by someone: until when nothing is sent.

Pure: no database, no clock. A heads-up or an opening may be put off within its window, never past the last
call; a last call and a missed may not.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from slabtide.reminders.contract import Spec, iso, send_until
from slabtide.reminders.plan import Standing

MAY_WAIT = ("heads_up", "open")
_SETTLED = ("acknowledged", "cancelled", "missed")


@dataclass(frozen=True, slots=True)
class Snooze:
    """Someone asked, at `at`, to be told at `until`."""

    by: str
    at: datetime
    until: datetime

    def as_json(self) -> dict[str, str]:
        """As it is stored."""
        return {"by": self.by, "at": iso(self.at), "until": iso(self.until)}

    @classmethod
    def from_json(cls, data: dict[str, Any]) -> "Snooze":
        """As it was stored."""
        return cls(data["by"], datetime.fromisoformat(data["at"]), datetime.fromisoformat(data["until"]))


def held_until(
    spec: Spec, specs: Sequence[Spec], snooze: Snooze | None, standing: Standing
) -> datetime | None:
    """Until when a reminder is not sent, or None when nothing holds it.

    specs -- all reminders of the job, for the last call of the same work
    standing -- what the reminder became; a snooze from before its last move no longer counts
    """
    if (
        snooze is None
        or spec.stage not in MAY_WAIT
        or standing.state in ("acknowledged", "cancelled", "missed")
    ):
        return None
    before = (standing.ack or {}).get("before")
    if before is not None and snooze.at <= datetime.fromisoformat(before):
        return None
    last_calls = [
        other.due
        for other in specs
        if (other.what, other.subject, other.stage) == (spec.what, spec.subject, "last_call")
    ]
    limit = min(last_calls, default=spec.expires)
    true_until = min(send_until(spec.stage, spec.opens, spec.closes, spec.expires), spec.expires)
    until = min(snooze.until, limit, true_until)
    return until if until > snooze.at else None
