"""When a device was last heard, and what it still owes: what the office looks at before it worries."""

from __future__ import annotations

from datetime import datetime, timedelta

from sqlalchemy import update
from sqlalchemy.orm import Session

from slabtide.people import Caller
from slabtide.store.session import write
from slabtide.store.tables import Device
from slabtide.sync.contract import SyncRequest

# A device that has nothing to say calls every few seconds; writing each time would cost a disk sync each.
FRESH_ENOUGH = timedelta(seconds=10)


def note_heard(session: Session, caller: Caller, wanted: SyncRequest, now: datetime) -> None:
    """Write down what the device said about itself."""
    session.execute(
        update(Device)
        .where(Device.company_id == caller.company_id, Device.id == caller.device_id)
        .values(last_heard_at=now, unsent=wanted.unsent, oldest_unsent_at=wanted.oldest_unsent_at)
        .execution_options(synchronize_session=False)
    )


def note_heard_if_news(caller: Caller, wanted: SyncRequest, now: datetime) -> None:
    """The same in a transaction of its own, left out when nothing changed in the last ten seconds."""
    heard_at = caller.last_heard_at
    same = (caller.unsent, caller.oldest_unsent_at) == (wanted.unsent, wanted.oldest_unsent_at)
    if same and heard_at is not None and now - FRESH_ENOUGH < heard_at <= now:
        return
    with write() as session:
        note_heard(session, caller, wanted, now)
