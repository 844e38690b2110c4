"""Facts about the installation that are made once and read often."""

from __future__ import annotations

import secrets
import uuid

from sqlalchemy import bindparam, select
from sqlalchemy.orm import Session

from slabtide.store.session import glance, write
from slabtide.store.tables import Meta
from slabtide.store.upsert import insert_into

EPOCH = "epoch"
INVITE_SALT = "invite_salt"
_VALUE = select(Meta.value).where(Meta.key == bindparam("key"))


def value(session: Session, key: str) -> str | None:
    """What is kept under `key`, or None."""
    return session.scalar(_VALUE, {"key": key})


def put(session: Session, key: str, text: str) -> None:
    """Keep `text` under `key`, over what was there."""
    row = insert_into(session, Meta).values(key=key, value=text)
    session.execute(row.on_conflict_do_update(index_elements=[Meta.key], set_={"value": text}))


def new_epoch(session: Session) -> str:
    """Start a new epoch: every phone will offer all of its own events again, which is harmless."""
    fresh = str(uuid.uuid4())
    put(session, EPOCH, fresh)
    return fresh


def make_once() -> None:
    """Make what an installation needs exactly one of, unless it is there. Part of `slabtide migrate`."""
    with write() as session:
        if value(session, EPOCH) is None:
            new_epoch(session)
        if value(session, INVITE_SALT) is None:
            put(session, INVITE_SALT, secrets.token_hex(16))


def epoch() -> str:
    """The epoch of this server's log; a phone that knows another one re-offers its own events."""
    found = glance(_VALUE, {"key": EPOCH})
    return _there(found.value if found else None)


def epoch_in(session: Session) -> str:
    """The same, inside a transaction already open."""
    return _there(value(session, EPOCH))


def _there(epoch: str | None) -> str:
    if epoch is None:
        raise RuntimeError("the database has no epoch: run `slabtide migrate`")
    return epoch
