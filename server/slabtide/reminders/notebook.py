"""What the worker writes down about a job beside its summary, from one look to the next."""

from collections.abc import Mapping, Sequence
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.office.forecast_rows import forecast_of
from slabtide.reminders.contract import Spec
from slabtide.store.tables import Event

POUR_REMEMBERED = timedelta(days=7)


def basis_of(session: Session, company_id: str, job: str) -> dict[str, Any]:
    """What the times of a job rest on: how much is logged, and which forecast."""
    logged = session.scalar(
        select(func.count()).select_from(Event).where(Event.company_id == company_id, Event.job == job)
    )
    forecast = forecast_of(session, company_id, job)
    return {"events": logged, "forecast": forecast.mark if forecast else None}


def why_moved(before: Mapping[str, Any] | None, basis: Mapping[str, Any]) -> str | None:
    """ "forecast" where the forecast changed since the last look and nothing was logged; None otherwise."""
    was = (before or {}).get("basis")
    if was is None or was["events"] != basis["events"] or was["forecast"] == basis["forecast"]:
        return None
    return "forecast"


def changed_works(before: Mapping[str, Any] | None, notebook: Mapping[str, Any]) -> set[str]:
    """Work that came up or is no longer ahead since the last look, as "what/subject"."""
    was = (before or {}).get("ahead")
    return set(was) ^ set(notebook.get("ahead", ())) if was is not None else set()


def begun_works(specs: Sequence[Spec]) -> list[str]:
    """Work under way, as "what/subject": it is ahead, and its opening need not be told any more."""
    works = {f"{spec.what}/{spec.subject}" for spec in specs}
    return sorted(works - {f"{spec.what}/{spec.subject}" for spec in specs if spec.stage == "open"})


def pour_carried(
    before: Mapping[str, Any] | None, notebook: Mapping[str, Any], now: datetime
) -> dict[str, Any]:
    """How often the pour's time changed, and, for a week, the time of a pour that was called off."""
    was = before or {}
    moved = was.get("pour_at") != notebook.get("pour_at") or was.get("closed") != notebook.get("closed")
    carried: dict[str, Any] = {
        "pour_revision": was.get("pour_revision", -1) + 1 if moved else was.get("pour_revision", 0),
        "pour_changed_at": write_instant(now) if moved else was.get("pour_changed_at", write_instant(now)),
    }
    if notebook.get("pour_at") is None:
        called_off = {"at": was["pour_at"], "since": write_instant(now)} if was.get("pour_at") else None
        kept = called_off or was.get("pour_was")
        if kept and now - datetime.fromisoformat(kept["since"]) <= POUR_REMEMBERED:
            carried["pour_was"] = kept
    return carried
