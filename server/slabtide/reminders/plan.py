"""What becomes of each reminder: from the rows as they stand and the reminders as they should be.

Pure: no database, no clock. Only the latest stage whose time has come is told; the ones it overtook are
cancelled. A reminder that was sent is sent again when its time moved by more than fifteen minutes.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.reminders.contract import STAGES, Spec, State, iso
from slabtide.reminders.rules import is_quiet

Key = tuple[str, str, str]  # what, subject, stage
MOVED_BY = timedelta(minutes=15)
_UNSENT: tuple[State, ...] = ("planned", "due", "failed")


@dataclass(frozen=True, slots=True)
class Standing:
    """A reminder as it stands: state, its time, the time it was last sent for, who has it in hand.

    `ack` is {"by", "at", "via"}; or {"before": time} once a later move made an acknowledgement stale.
    """

    state: State
    due: datetime
    sent_due: datetime | None = None
    moved_from: datetime | None = None
    ack: Mapping[str, Any] | None = None


@dataclass(frozen=True, slots=True)
class Ack:
    """Someone said they have it in hand."""

    by: str
    at: datetime
    via: str


def plan(
    standing: Mapping[Key, Standing],
    specs: Sequence[Spec],
    acks: Mapping[Key, Ack],
    now: datetime,
    zone: ZoneInfo,
) -> dict[Key, Standing]:
    """What each reminder becomes, by (what, subject, stage); keys of `standing` and of `specs`."""
    current = _current(specs, now)
    after: dict[Key, Standing] = {}
    for spec in specs:
        key: Key = (spec.what, spec.subject, spec.stage)
        reached = STAGES.index(spec.stage) - current.get((spec.what, spec.subject), -1)
        was = standing.get(key)
        after[key] = _step(was, spec, reached, now, zone)
    for other, row in standing.items():
        if other not in after:
            after[other] = replace(row, state="cancelled") if row.state in _UNSENT else row
    return {key: _acknowledged(state, acks.get(key)) for key, state in after.items()}


def _current(specs: Iterable[Spec], now: datetime) -> dict[tuple[str, str], int]:
    """The latest stage reached, per piece of work."""
    reached: dict[tuple[str, str], int] = {}
    for spec in specs:
        if spec.due <= now < spec.expires:
            at = (spec.what, spec.subject)
            reached[at] = max(reached.get(at, -1), STAGES.index(spec.stage))
    return reached


def _step(was: Standing | None, spec: Spec, reached: int, now: datetime, zone: ZoneInfo) -> Standing:
    """`reached`: below 0 overtaken, 0 the stage that is true now, above 0 still to come."""
    told = None if was is None else was.due if was.state == "acknowledged" else was.sent_due
    if was is not None and _slot_lost(was, spec):
        told = was.due
    if was is not None and told is not None:
        return _step_of_told(was, told, spec, reached, now, zone)
    if was is not None and was.state == "due" and reached == 0:
        return was  # its deliveries are under way under the time they were made for
    return Standing(_fresh(was, spec, reached, now, zone), spec.due, ack=was.ack if was else None)


def _slot_lost(was: Standing, spec: Spec) -> bool:
    """Whether a time that somebody kept no longer suits, which they must hear though nothing was sent yet."""
    kept = spec.opens.kept
    lost = kept is not None and kept.why is not None and spec.stage == "heads_up"
    return lost and was.state == "planned" and was.sent_due is None and abs(spec.due - was.due) > MOVED_BY


def _fresh(was: Standing | None, spec: Spec, reached: int, now: datetime, zone: ZoneInfo) -> State:
    if spec.expires <= now:
        return "missed" if was is None or was.state != "cancelled" else "cancelled"
    if reached < 0:
        return "cancelled"
    if reached > 0 or _held(spec, now, zone):
        return "planned"
    if was is not None and was.state == "failed" and abs(spec.due - was.due) <= MOVED_BY:
        return "failed"
    return "due"


def _step_of_told(
    was: Standing, told: datetime, spec: Spec, reached: int, now: datetime, zone: ZoneInfo
) -> Standing:
    if spec.expires <= now:
        return replace(was, state="missed") if was.state in ("planned", "due") else was
    if abs(spec.due - told) <= MOVED_BY:
        back = was.state in ("cancelled", "planned", "missed") or (was.state == "due" and reached != 0)
        return replace(was, state="sent", moved_from=None) if back else was
    if reached < 0:
        return replace(was, state="cancelled") if was.state in _UNSENT else was
    # The news of a move can't wait for the new time: that is what a heads-up is for.
    tell_now = reached == 0 or spec.stage == "heads_up"
    state: State = "due" if tell_now and not _held(spec, now, zone) else "planned"
    if was.state in ("due", "failed") and state == "due" and abs(was.due - spec.due) <= MOVED_BY:
        return was
    if was.state == "planned" and state == "planned":
        return replace(was, due=spec.due)
    return Standing(state, spec.due, told, moved_from=told, ack={"before": iso(now)})


def _held(spec: Spec, now: datetime, zone: ZoneInfo) -> bool:
    return spec.stage == "heads_up" and is_quiet(now, zone)


def _acknowledged(standing: Standing, ack: Ack | None) -> Standing:
    if standing.state == "acknowledged" and ack is None:  # taken back
        return replace(standing, state="sent" if standing.sent_due else "planned", ack=None)
    if ack is None or standing.state not in ("planned", "due", "sent", "failed"):
        return standing
    before = (standing.ack or {}).get("before")
    if before is not None and ack.at <= datetime.fromisoformat(before):
        return standing
    by = {"by": ack.by, "at": iso(ack.at), "via": ack.via}
    return replace(standing, state="acknowledged", ack=by)
