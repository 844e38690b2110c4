"""Conflicts of a company, from the board's rows."""

from collections.abc import Iterable
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, or_, select
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.office.conflicts.order import Turn
from slabtide.office.conflicts.settings import EST, Settings
from slabtide.office.conflicts.works import Conflict, find
from slabtide.store.tables import BoardRow

Known = dict[str, dict[str, str]]
MOST_JOBS = 400
MOST_TOLD = 12
PAST = timedelta(days=1)
STEP_MIN = 5
"""Told anew every five minutes, so that a board nothing happened to is not sent again."""


def conflicts_json(session: Session, company_id: str, now: datetime) -> dict[str, Any]:
    """Conflicts for the wire, the costliest first; `unnamed`: what too many jobs leave unnamed to tell by."""
    now -= timedelta(minutes=now.minute % STEP_MIN, seconds=now.second, microseconds=now.microsecond)
    until = now + EST.look_ahead
    query = (
        select(BoardRow.job, BoardRow.name, BoardRow.shown)
        .where(
            BoardRow.company_id == company_id,
            BoardRow.open,
            or_(BoardRow.closes.between(now - PAST, until), BoardRow.pour_at.between(now, until)),
        )
        .order_by(func.coalesce(BoardRow.closes, BoardRow.pour_at), BoardRow.job)  # of too many, the soonest
        .limit(MOST_JOBS)
    )
    rows = [row for row in session.execute(query) if row.shown]
    known = {row.job: {"name": row.name, "time_zone": row.shown.get("time_zone") or "UTC"} for row in rows}
    found = find(((row.job, row.shown) for row in rows), now)
    shown = {row.job: row.shown for row in rows}
    return {
        "found": [_told(one, known, shown) for one in found.conflicts[:MOST_TOLD]],
        "more": max(0, len(found.conflicts) - MOST_TOLD),
        "unnamed": list(found.unnamed),
        "rests_on": rests_on(EST) if found.conflicts else None,
    }


def rests_on(settings: Settings) -> dict[str, Any]:
    """What the order that loses least is weighed by: cost of an hour late by work, and minutes taken as
    given."""
    minutes = {
        "between_jobs": settings.between_jobs,
        "after_last_load": settings.after_last_load,
        "texture_without_pace": settings.texture_without_pace,
        "set_up_saw": settings.set_up_saw,
        "saw_without_length": settings.saw_without_length,
        "coating": settings.coating,
    }
    taken = {f"{name}_min": int(span.total_seconds() // 60) for name, span in minutes.items()}
    return {"weights": dict(settings.weights)} | taken


def _told(conflict: Conflict, known: Known, shown: dict[str, Any]) -> dict[str, Any]:
    resource, clash = conflict.resource, conflict.clash
    job = clash.best[0].work.job
    named = (shown[job].get("named") or {}).get(resource.kind)
    return {
        "kind": resource.kind,
        "name": named if resource.name else None,
        "order": _turns(clash.best, known),
        "loss": round(clash.best_loss, 1),
        "as_it_comes": _turns(clash.as_it_comes, known),
        "loss_as_it_comes": round(clash.loss, 1),
    }


def _turns(turns: Iterable[Turn], known: Known) -> list[dict[str, Any]]:
    return [
        {
            "job": turn.work.job,
            **known[turn.work.job],
            "what": turn.work.what,
            "subject": turn.work.subject,
            "from": write_instant(turn.begins),
            "to": write_instant(turn.ends),
            "done_by": write_instant(turn.work.done_by),
            "late_min": int(turn.late.total_seconds() // 60),
        }
        for turn in turns
    ]
