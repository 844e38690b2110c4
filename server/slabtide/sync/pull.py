"""Giving events out: by number, never past what is committed, never a device its own unless it asks."""

from __future__ import annotations

from dataclasses import dataclass

from sqlalchemy import ColumnElement, Text, cast, select

from slabtide.people import Caller
from slabtide.store.meta import epoch_in
from slabtide.store.session import read
from slabtide.store.tables import CompanyCounter, Event
from slabtide.sync.contract import MOST_EVENTS_OUT, SyncRequest

_COLUMNS = (
    Event.seq,
    Event.id,
    Event.job,
    Event.kind,
    # The body as the text it is stored as: taking it apart to put it together again costs most of a pull.
    cast(Event.body, Text).label("body"),
    Event.at,
    Event.clock,
    Event.device,
    Event.author,
    Event.raw_at,
    Event.received_at,
)


@dataclass(frozen=True, slots=True)
class Pulled:
    """Events after a cursor, as JSON text; the cursor to come with next; whether there is more now."""

    events_json: str
    count: int
    cursor: int
    more: bool
    epoch: str


def up_to_date(caller: Caller) -> Pulled:
    """What a device gets that had seen everything when its call came."""
    return Pulled(events_json="[]", count=0, cursor=caller.log_seq, more=False, epoch=caller.epoch)


def pull(caller: Caller, wanted: SyncRequest, most: int = MOST_EVENTS_OUT) -> Pulled:
    """The next events after the cursor, at most `most` of them; where the device says which jobs it holds, of
    those alone.

    Numbers are given under the lock of the company's counter and committed with it: whoever reads the
    counter sees every event up to it, on PostgreSQL too.
    """
    fits = [] if wanted.own else [Event.device != caller.device_id]
    if wanted.held is not None:
        fits.append(Event.job.in_(sorted(set(wanted.held))))
    return _after(caller, wanted.cursor, fits, most, scattered=wanted.held is not None)


def pull_job(caller: Caller, job: str, after: int, most: int = MOST_EVENTS_OUT) -> Pulled:
    """A job's events after a number, whoever's, at most `most` of them."""
    return _after(caller, after, [Event.job == job], most, scattered=True)


def _after(
    caller: Caller, cursor: int, fits: list[ColumnElement[bool]], most: int, *, scattered: bool
) -> Pulled:
    """Events that fit, by number. `scattered`: few of the log's do, so they are looked for by job."""
    with read() as session:
        epoch = epoch_in(session)
        counter = select(CompanyCounter.seq).where(CompanyCounter.company_id == caller.company_id)
        top = session.execute(counter).scalar_one()
        query = select(*_COLUMNS).where(
            Event.company_id == caller.company_id, Event.seq > cursor, Event.seq <= top, *fits
        )
        # A sum is in no index: left to itself, the database may walk the whole log by number.
        query = query.order_by(Event.seq + 0 if scattered else Event.seq)
        rows = session.execute(query.limit(most + 1)).all() if cursor < top else []
    more = len(rows) > most
    given = rows[:most]
    return Pulled(
        events_json=f"[{','.join([_as_json(*row) for row in given])}]",
        count=len(given),
        cursor=given[-1][0] if more else top,
        more=more,
        epoch=epoch,
    )


def _as_json(
    seq: int,
    event_id: str,
    job: str,
    kind: str,
    body: str,
    at: str,
    clock: str,
    device: str,
    author: str,
    raw_at: str | None,
    received_at: str,
) -> str:
    # Every text here was held to a form without quotes or backslashes when it was accepted.
    raw = f'"{raw_at}"' if raw_at else "null"
    return (
        f'{{"id":"{event_id}","job":"{job}","kind":"{kind}","body":{body},"at":"{at}","clock":"{clock}",'
        f'"device":"{device}","author":"{author}","raw_at":{raw},"seq":{seq},"received_at":"{received_at}"}}'
    )
