"""Which jobs a device carries with it: those kept on it, its person's own, and those nearest in time.

A company of a few dozen jobs carries them all. One of thousands can't: each phone would fetch, keep and fold
what it never opens. The others come on request, one by one.
"""

import uuid
from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from marshmallow import EXCLUDE, Schema, ValidationError, fields
from marshmallow.validate import Range
from sqlalchemy import and_, select
from sqlalchemy.orm import Session

from slabtide.json_body import load
from slabtide.people import Caller
from slabtide.store.tables import BoardRow, Device, JobMark

MOST_NEAR = 40
"""So many open jobs go to a device by themselves, besides those it asks to keep."""
MOST_OWN = 30
"""So many of them at most are the person's own: the others are whatever is nearest in time."""
OWN_WITHIN = timedelta(days=30)
"""As long as sealer may wait after a pour (common practice, no source)."""
MOST_KEPT = 100
_NEVER = timedelta(days=36_500)


@dataclass(frozen=True, slots=True)
class Asked:
    """What an address asks for. `near`: only what the device is to carry; `kept`: jobs it keeps besides."""

    near: bool = False
    kept: tuple[str, ...] = ()


@dataclass(frozen=True, slots=True)
class Carried:
    """The jobs a device carries, and how many open ones it does not."""

    jobs: frozenset[str]
    left_out: int


class _JobIds(fields.Field[tuple[str, ...]]):
    """Job ids with commas between them."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> tuple[str, ...]:
        ids = tuple(dict.fromkeys(part for part in str(value).split(",") if part))
        if len(ids) > MOST_KEPT:
            raise ValidationError(f"At most {MOST_KEPT} jobs.")
        try:
            return tuple(str(uuid.UUID(one)) for one in ids)
        except ValueError:
            raise ValidationError("Must be job ids with commas between them.") from None


class _Asked(Schema):
    class Meta:
        """Other parameters mean nothing here and harm nothing."""

        unknown = EXCLUDE

    near = fields.Integer(load_default=0, validate=Range(0, 1))
    keep = _JobIds(load_default=())


_SCHEMA = _Asked()


def read_asked(found: Mapping[str, str]) -> Asked:
    """`near` and `keep` of a query string. Raises `MalformedError` naming what is wrong."""
    loaded = load(_SCHEMA, dict(found))
    return Asked(bool(loaded["near"]), loaded["keep"])


def carried(session: Session, who: Caller, now: datetime, asked: Asked) -> Carried:
    """The jobs that `who`'s device carries: every open one, or, asked for the near ones, `MOST_NEAR` of them
    and those it keeps, open or closed."""
    rows = _rows(session, who.company_id)
    mine = _devices_of(session, who)
    open_jobs = {row.job: row for row in rows if row.open is not False or row.unmade}
    if not asked.near:
        return Carried(frozenset(open_jobs), 0)
    kept = frozenset(asked.kept) & {row.job for row in rows}
    chosen = kept | set(nearest(open_jobs.values(), mine, now))
    return Carried(frozenset(chosen), len(open_jobs.keys() - chosen))


def nearest(rows: Iterable[Any], mine: frozenset[str], now: datetime) -> list[str]:
    """The `MOST_NEAR` jobs that matter first. Up to `MOST_OWN` of them are jobs that a device of `mine` wrote
    to and whose pour or next work is within `OWN_WITHIN`; the rest are those nearest in time, whosever. A job
    just begun is near; one without any time is far.

    rows -- with `job`, `unmade`, `pour_at`, `due`, `closes`, `devices`
    """
    by_time = sorted(((_distance(row, now), row.job, row) for row in rows), key=lambda one: one[:2])
    own = [
        job
        for distance, job, row in by_time
        if distance <= OWN_WITHIN and not mine.isdisjoint(row.devices or ())
    ][:MOST_OWN]
    others = [job for _, job, _ in by_time if job not in own]
    return own + others[: MOST_NEAR - len(own)]


def _distance(row: Any, now: datetime) -> timedelta:
    if row.unmade:
        return timedelta(0)
    times = (row.pour_at, row.due, row.closes)
    return min((abs(at - now) for at in times if at is not None), default=_NEVER)


def _rows(session: Session, company_id: str) -> Sequence[Any]:
    """Every job of the log. `unmade`: its row of the board is still to come."""
    same = and_(BoardRow.company_id == JobMark.company_id, BoardRow.job == JobMark.job)
    query = (
        select(
            JobMark.job,
            BoardRow.open,
            (BoardRow.phase.is_(None) | (BoardRow.phase == "")).label("unmade"),
            BoardRow.pour_at,
            BoardRow.due,
            BoardRow.closes,
            BoardRow.devices,
        )
        .outerjoin(BoardRow, same)
        .where(JobMark.company_id == company_id)
    )
    return session.execute(query).all()


def _devices_of(session: Session, who: Caller) -> frozenset[str]:
    query = select(Device.id).where(Device.company_id == who.company_id, Device.person_id == who.person_id)
    return frozenset(session.scalars(query))
