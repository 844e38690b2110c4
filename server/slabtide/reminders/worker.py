"""One tick: bring dirty jobs up to date, let reminders fall due, send what is due."""

import logging
import os
import socket
import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from flask import Flask
from sqlalchemy.orm import Session

from slabtide.config import config_of
from slabtide.office import board_rows
from slabtide.office.outlook import Computed, compute, keep
from slabtide.office.summary import summary_of
from slabtide.reminders import outbox
from slabtide.reminders.concerns import owners_of
from slabtide.reminders.crew import lead_of
from slabtide.reminders.dispatch import Dispatcher
from slabtide.reminders.escalate import anything_unanswered, escalate
from slabtide.reminders.facts import acks_of, facts_of, snoozes_of
from slabtide.reminders.keys import NoPushKeyError, read_key
from slabtide.reminders.notebook import basis_of, begun_works, changed_works, pour_carried, why_moved
from slabtide.reminders.push import PushSender, WebPushSender
from slabtide.reminders.rules import derive
from slabtide.reminders.upsert import anything_ripe, bump, ripen, upsert
from slabtide.reminders.windows import Facts
from slabtide.store.jobs import clear_mark, due_jobs
from slabtide.store.session import alone, read, write, written
from slabtide.store.tables import JobMark

JOBS_PER_TICK = 20
SEND_WAIT_S = 15.0
TRY_AGAIN_AFTER = timedelta(minutes=1)
RIPENING, FILLING = 0x51AB0001, 0x51AB0002  # turns of which one worker holds each at a time
_SENDER, _DISPATCHER = "slabtide_push_sender", "slabtide_push_dispatcher"
_WARNED = "slabtide_push_warned"
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class TickReport:
    """What one tick did: jobs looked at and failed, pushes taken in hand, pushes sent."""

    recomputed: int
    failed_jobs: int
    claimed: int
    sent: int


def tick(app: Flask, now: datetime, send_wait_s: float = SEND_WAIT_S) -> TickReport:
    """Run once at `now` (aware UTC). One bad job, one dead endpoint: the others go on.

    send_wait_s -- how long to wait for pushes under way; slower ones end by themselves
    """
    with app.app_context():
        recomputed, failed = _recompute_dirty(app, now)
        if _time_has_come(now):
            written(lambda session: _let_time_pass(session, now))
        return _send_due(app, now, send_wait_s, recomputed, failed)


def _time_has_come(now: datetime) -> bool:
    """Looked up without the write lock, which most ticks need not take."""
    with read() as session:
        return anything_ripe(session, now) or board_rows.any_stale(session, now)


def _let_time_pass(session: Session, now: datetime) -> None:
    """One worker at a time: two would write the same rows."""
    if alone(session, RIPENING):
        ripen(session, now)
        board_rows.refresh_stale(session, now)


def _anything_to_tell(now: datetime) -> bool:
    with read() as session:
        return outbox.anything_to_put_on_its_way(session, now) or anything_unanswered(session, now)


def _fill(session: Session, now: datetime) -> None:
    if alone(session, FILLING):
        outbox.fill(session, now)
        escalate(session, now)


def sender_of(app: Flask) -> PushSender | None:
    """The push sender of an application, or None while it is not set up (no key, or no contact)."""
    if _SENDER not in app.extensions:
        config = config_of(app)
        try:
            key = read_key(config.vapid_key_file)
        except NoPushKeyError:
            _not_set_up(app, "there is no push key; run `slabtide keys`")
            return None
        if config.push_contact is None:
            _not_set_up(app, "SLABTIDE_PUSH_CONTACT is not set; push services want an address")
            return None
        app.extensions[_SENDER] = WebPushSender(key, config.push_contact, config.push_hosts)
    sender: PushSender = app.extensions[_SENDER]
    return sender


def _not_set_up(app: Flask, why: str) -> None:
    """Say it once: phones still raise reminders by themselves while they are open."""
    if app.extensions.get(_WARNED) != why:
        app.extensions[_WARNED] = why
        _log.warning("reminders are not pushed: %s", why)


def use_sender(app: Flask, sender: PushSender) -> None:
    """Send through `sender` from now on."""
    close(app)
    app.extensions[_SENDER] = sender


def close(app: Flask) -> None:
    """End the sending threads of an application."""
    dispatcher: Dispatcher | None = app.extensions.pop(_DISPATCHER, None)
    if dispatcher is not None:
        dispatcher.close()


def worker_name() -> str:
    """A name no other worker has, for claims."""
    return f"{socket.gethostname()[:40]}/{os.getpid()}/{uuid.uuid4().hex[:8]}"


def _recompute_dirty(app: Flask, now: datetime) -> tuple[int, int]:
    with read() as session:
        marks = due_jobs(session, now, JOBS_PER_TICK)
    failed = 0
    for mark in marks:
        try:
            _one_job(mark, now)
        except Exception:  # noqa: BLE001  (one bad job must not stop the others; the traceback is logged)
            _log.exception("job %s could not be brought up to date", mark.job)
            failed += 1
            _put_off(mark, now)
    return len(marks), failed


def _one_job(mark: JobMark, now: datetime) -> None:
    """Compute outside the write lock, then write outlook, reminders and mark in one transaction."""
    with read() as session:
        computed = compute(session, mark.company_id, mark.job, now)
        basis = basis_of(session, mark.company_id, mark.job)
    facts = facts_of(computed.view)
    written(lambda session: _keep(session, mark, computed, facts, basis, now))


def _keep(
    session: Session,
    mark: JobMark,
    computed: Computed,
    facts: Facts | None,
    basis: dict[str, Any],
    now: datetime,
) -> None:
    held = session.get(JobMark, (mark.company_id, mark.job), with_for_update=True)
    outlook = keep(session, computed)
    before = dict(held.state) if held is not None and held.state else None
    notebook = summary_of(computed.view, computed.devices)
    notebook |= {"basis": basis, "lead": lead_of(computed.view), "owners": owners_of(computed.view)}
    notebook |= pour_carried(before, notebook, now)
    if facts is not None:
        specs = derive(facts, None if outlook.planned else outlook.timeline)
        notebook["ahead"] = sorted({f"{spec.what}/{spec.subject}" for spec in specs})
        notebook["begun"] = begun_works(specs)
        acks, snoozes, why = acks_of(computed.view), snoozes_of(computed.view), why_moved(before, basis)
        upsert(session, mark.company_id, mark.job, notebook, specs, acks, now, snoozes, why)
        bump(session, mark.company_id, mark.job, changed_works(before, notebook), now)
    if held is not None:
        held.state = notebook
    board_rows.refresh(session, mark.company_id, [mark.job], now)
    clear_mark(session, mark, computed.worked.recompute_after)


def _put_off(mark: JobMark, now: datetime) -> None:
    """Look at a job that failed again in a minute, not on every tick."""
    with write() as session:
        clear_mark(session, mark, now + TRY_AGAIN_AFTER)


def _send_due(app: Flask, now: datetime, send_wait_s: float, recomputed: int, failed: int) -> TickReport:
    sender = sender_of(app)
    if sender is None:
        return TickReport(recomputed, failed, 0, 0)
    dispatcher: Dispatcher | None = app.extensions.get(_DISPATCHER)
    if dispatcher is None:
        dispatcher = app.extensions[_DISPATCHER] = Dispatcher(sender, worker_name())
    if _anything_to_tell(now):
        written(lambda session: _fill(session, now))
    claimed, sent = dispatcher.run(now, send_wait_s)
    return TickReport(recomputed, failed, claimed, sent)
