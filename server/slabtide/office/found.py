"""Finding a job of the company by its name or place, for a device that carries only some of them."""

from collections.abc import Mapping
from dataclasses import dataclass
from typing import Any

from marshmallow import EXCLUDE, Schema, fields
from marshmallow.validate import Length, Range
from sqlalchemy import func, select
from sqlalchemy.orm import Session

from slabtide.json_body import load
from slabtide.log.instants import write_instant
from slabtide.office.board_rows import plain_text
from slabtide.store.tables import BoardRow

MOST_FOUND = 100


@dataclass(frozen=True, slots=True)
class Wanted:
    """`search`: words that all must stand in the name or place; '' finds every job."""

    search: str = ""
    skip: int = 0
    limit: int = 20


class _Wanted(Schema):
    class Meta:
        """Other parameters mean nothing here and harm nothing."""

        unknown = EXCLUDE

    search = fields.String(load_default="", validate=Length(max=80))
    skip = fields.Integer(load_default=0, validate=Range(0, 1_000_000))
    limit = fields.Integer(load_default=20, validate=Range(1, MOST_FOUND))


_SCHEMA = _Wanted()


def read_wanted(found: Mapping[str, str]) -> Wanted:
    """What a query string asks for. Raises `MalformedError` naming what is wrong."""
    loaded = load(_SCHEMA, dict(found))
    return Wanted(**(loaded | {"search": plain_text(loaded["search"])}))


def jobs_found(session: Session, company_id: str, wanted: Wanted) -> dict[str, Any]:
    """A page of the jobs that fit, open ones first, the latest pour first; and how many fit."""
    fits = [BoardRow.company_id == company_id, BoardRow.phase != ""]
    fits += [BoardRow.search.contains(word, autoescape=True) for word in wanted.search.split()]
    total = session.scalar(select(func.count()).select_from(BoardRow).where(*fits)) or 0
    page = (
        select(BoardRow.job, BoardRow.name, BoardRow.phase, BoardRow.open, BoardRow.pour_at, BoardRow.shown)
        .where(*fits)
        .order_by(BoardRow.open.desc(), BoardRow.pour_at.desc().nulls_last(), BoardRow.name, BoardRow.job)
        .offset(wanted.skip)
        .limit(wanted.limit)
    )
    return {"jobs": [_told(row) for row in session.execute(page)], "total": total}


def _told(row: Any) -> dict[str, Any]:
    return {
        "job": row.job,
        "name": row.name,
        "place": (row.shown or {}).get("place"),
        "phase": row.phase,
        "open": row.open,
        "pour_at": write_instant(row.pour_at) if row.pour_at else None,
    }
