"""Taking events in: idempotent by id, one number after the other, all or nothing per call."""

from __future__ import annotations

from collections.abc import Iterable
from datetime import datetime
from functools import cache

from sqlalchemy import Row, insert, select, update
from sqlalchemy.orm import Session

from slabtide.log import clock
from slabtide.log.envelope import Event, EventRejected
from slabtide.log.instants import to_ms, write_instant
from slabtide.log.kinds import may_retract
from slabtide.people import Caller
from slabtide.store.jobs import mark_dirty
from slabtide.store.session import read, write
from slabtide.store.tables import CompanyCounter, Device
from slabtide.store.tables import Event as Line
from slabtide.sync.checking import Checked, check
from slabtide.sync.contract import Outcome, SyncRequest
from slabtide.sync.heard import note_heard

RETRACT = "event.retracted"
KnownEvent = Row[str, str, str, str, str, str]


def offer(caller: Caller, wanted: SyncRequest, now: datetime) -> Outcome:
    """Store what is new and sound among the offered events, and say what became of each."""

    @cache
    def earlier_devices() -> set[str]:
        with read() as session:
            mine = (Device.company_id == caller.company_id) & (Device.person_id == caller.person_id)
            return set(session.scalars(select(Device.id).where(mine)))

    checked = check(wanted.events, caller, now, earlier_devices)
    if not checked.events:
        return Outcome(rejected=checked.rejected)
    with write() as session:
        last = _lock_company(session, caller.company_id)
        known = _known(session, caller.company_id, checked.events)
        _refuse_taken_ids(checked, known)
        _refuse_foreign_retracts(session, checked, known, caller)
        fresh = [event for event in checked.events.values() if event.id not in known]
        clamped = clock.clamp([(event.id, event.clock) for event in fresh], to_ms(now))
        _append(session, caller.company_id, last, fresh, clamped, now)
        for job in {event.job for event in fresh}:
            mark_dirty(session, caller.company_id, job, now)
        note_heard(session, caller, wanted, now)
    # An event offered again with the clock it had before we clamped it learns the clamped one here.
    kept = {row.id: row.clock for row in known.values() if row.id in checked.events}
    clamped |= {event: text for event, text in kept.items() if text != checked.events[event].clock}
    return Outcome(list(checked.events), checked.rejected, clamped)


def _lock_company(session: Session, company_id: str) -> int:
    """The last number given. The row stays locked, so that a company's numbers are committed in order."""
    query = select(CompanyCounter.seq).where(CompanyCounter.company_id == company_id).with_for_update()
    return session.execute(query).scalar_one()


def _known(session: Session, company_id: str, ids: Iterable[str]) -> dict[str, KnownEvent]:
    query = select(Line.id, Line.job, Line.kind, Line.device, Line.author, Line.clock).where(
        Line.company_id == company_id, Line.id.in_(list(ids))
    )
    return {row.id: row for row in session.execute(query).all()}


def _refuse_taken_ids(checked: Checked, known: dict[str, KnownEvent]) -> None:
    for row in known.values():
        event = checked.events[row.id]
        same = (row.job, row.kind, row.author) == (event.job, event.kind, event.author)
        if not same:
            why = EventRejected(
                "id_taken",
                "id",
                "Another event already has this id.",
                "Record it again, then discard this one.",
            )
            checked.reject(row.id, why)


def _refuse_foreign_retracts(
    session: Session, checked: Checked, known: dict[str, KnownEvent], caller: Caller
) -> None:
    """Crew take back their own events only; a target nobody has seen is nobody's."""
    retracts = [event for event in checked.events.values() if event.kind == RETRACT and event.id not in known]
    if not retracts or may_retract(caller.role, caller.person_id, ""):
        return
    targets = _known(session, caller.company_id, {event.body["event"] for event in retracts})
    for event in retracts:
        target = event.body["event"]
        row = targets.get(target)
        author = row.author if row else checked.events[target].author if target in checked.events else None
        if author is None:
            why = EventRejected(
                "target_unknown",
                "body.event",
                "The event to take back is not here.",
                "Sync, then undo again.",
            )
            checked.reject(event.id, why)
        elif not may_retract(caller.role, caller.person_id, author):
            why = EventRejected(
                "role_not_allowed",
                "body.event",
                "Crew can take back their own entries only.",
                "Ask the foreman to take it back.",
            )
            checked.reject(event.id, why)


def _append(
    session: Session, company_id: str, last: int, fresh: list[Event], clamped: dict[str, str], now: datetime
) -> None:
    if not fresh:
        return
    received_at = write_instant(now)
    rows = [
        {
            "company_id": company_id,
            "seq": seq,
            "id": event.id,
            "job": event.job,
            "kind": event.kind,
            "body": event.body,
            "at": event.at,
            "clock": clamped.get(event.id, event.clock),
            "device": event.device,
            "author": event.author,
            "raw_at": event.raw_at,
            "received_at": received_at,
        }
        for seq, event in enumerate(fresh, last + 1)
    ]
    session.connection().execute(insert(Line), rows)
    session.execute(
        update(CompanyCounter)
        .where(CompanyCounter.company_id == company_id)
        .values(seq=last + len(fresh))
        .execution_options(synchronize_session=False)
    )
