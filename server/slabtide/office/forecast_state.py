"""How the forecast sources stand: which is used, when it was issued, what went wrong last, who is next."""

from collections.abc import Iterable, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.config import Config
from slabtide.log.instants import write_instant
from slabtide.store.tables import ForecastCache, JobForecast

NAMES = ("us", "world")


def forecast_json(session: Session, company_id: str, config: Config, job: str | None) -> dict[str, Any]:
    """The sources in the order they are asked, for a job's place or for all places of the company."""
    addresses = (config.forecast_us_url, config.forecast_world_url)
    asked = [name for name, address in zip(NAMES, addresses, strict=True) if address]
    used_by = session.get(JobForecast, (company_id, job)) if job else None
    query = select(ForecastCache).where(ForecastCache.company_id == company_id)
    if job:
        query = query.where(ForecastCache.place == (used_by.place if used_by else ""))
    rows = list(session.scalars(query))
    return {
        "on": bool(asked) and config.push_contact is not None,
        "label": used_by.label if used_by else None,
        "as_of": _iso(used_by.as_of if used_by else None),
        "sources": [
            _source(number, name, [row for row in rows if row.source == name])
            for number, name in enumerate(asked, 1)
        ],
    }


def _source(order: int, name: str, rows: Sequence[ForecastCache]) -> dict[str, Any]:
    failing = [row for row in rows if row.failures]
    worst = max(failing, key=lambda row: row.failures, default=None)
    return {
        "source": name,
        "order": order,
        "places": len(rows),
        "used": sum(row.used for row in rows),
        "label": next((row.label for row in rows if row.label), None),
        "issued_at": _latest(row.issued_at for row in rows),
        "failing": len(failing),
        "failures": worst.failures if worst else 0,
        "why": worst.why if worst else None,
        "next_at": _iso(min((row.next_at for row in rows if row.next_at), default=None)),
    }


def _latest(times: Iterable[datetime | None]) -> str | None:
    return _iso(max((at for at in times if at), default=None))


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else write_instant(moment)
