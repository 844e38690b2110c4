"""What the database keeps of forecasts: how each source stands, the hours of a place, which job uses them."""

import hashlib
import json
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from slabtide.engine.pour import WeatherHour
from slabtide.store.jobs import mark_dirty
from slabtide.store.tables import ForecastCache, JobForecast, JobMark, JobOutlook
from slabtide.store.tables import WeatherHour as Row
from slabtide.store.upsert import insert_into
from slabtide.weather.sources.chain import Chosen, Standing
from slabtide.weather.sources.contract import Forecast, Marks, Place

HOURS_KEPT = timedelta(days=42)
BEFORE_POUR, AFTER_POUR = timedelta(days=10), timedelta(days=39)  # sealer may wait four weeks
AFTER_LAST_LOOK = timedelta(days=14)
Where = tuple[str, str]  # company, place


@dataclass(frozen=True, slots=True)
class Wanted:
    """A place whose forecast some jobs of a company rest on."""

    company_id: str
    place: Place
    jobs: tuple[str, ...]

    @property
    def where(self) -> Where:
        """Its key among the rows."""
        return self.company_id, self.place.key


def wanted_places(session: Session, now: datetime) -> list[Wanted]:
    """Places of the jobs ahead: open, with a position, poured within days of `now`, or not yet ordered and
    looked at within two weeks."""
    query = select(JobMark.company_id, JobMark.job, JobMark.state, JobOutlook.computed_at).outerjoin(
        JobOutlook, (JobOutlook.company_id == JobMark.company_id) & (JobOutlook.job == JobMark.job)
    )
    found: dict[tuple[str, Place], list[str]] = {}
    for company_id, job, state, looked_at in session.execute(query):
        place = _place(state or {})
        if place is not None and _is_ahead(state, looked_at, now):
            found.setdefault((company_id, place), []).append(job)
    return [Wanted(company_id, place, tuple(jobs)) for (company_id, place), jobs in found.items()]


def standings(session: Session, where: Where | None = None) -> dict[Where, dict[str, Standing]]:
    """How every source stands for every place, or for the one named."""
    query = select(ForecastCache)
    if where is not None:
        query = query.where(ForecastCache.company_id == where[0], ForecastCache.place == where[1])
    found: dict[Where, dict[str, Standing]] = {}
    for row in session.scalars(query):
        found.setdefault((row.company_id, row.place), {})[row.source] = Standing(
            Marks(row.etag, row.last_modified, row.grid),
            row.next_at,
            row.failures,
            row.why,
            row.used,
            row.label,
            row.issued_at,
        )
    return found


def keep(session: Session, wanted: Wanted, chosen: Chosen, now: datetime) -> list[str]:
    """Write what came of asking for a place, and mark the jobs whose forecast it changes. Returns those jobs.

    New hours take the place of those they name; the hours before them stay, for the concrete lies in them.
    """
    for name, standing in chosen.standings.items():
        _keep_standing(session, wanted, name, standing)
    if chosen.forecast is not None:
        _keep_hours(session, wanted, chosen.forecast, now)
    return assign(session, wanted, chosen, now)


def assign(session: Session, wanted: Wanted, chosen: Chosen, now: datetime) -> list[str]:
    """Tie the jobs of a place to its forecast; those for which it is news are marked for a new outlook."""
    used = session.scalar(
        select(ForecastCache).where(
            ForecastCache.company_id == wanted.company_id,
            ForecastCache.place == wanted.place.key,
            ForecastCache.used,
        )
    )
    if used is None or not chosen.label:
        return []
    if chosen.forecast is not None:
        used.digest = digest_of(chosen.forecast.hours)
    mark = hashlib.sha256(f"{used.digest}/{chosen.label}".encode()).hexdigest()[:32]
    news = []
    for job in wanted.jobs:
        row = session.get(JobForecast, (wanted.company_id, job))
        if row is None:
            row = JobForecast(company_id=wanted.company_id, job=job, place="", mark="", label="")
            session.add(row)
        if (row.place, row.mark) != (wanted.place.key, mark):
            mark_dirty(session, wanted.company_id, job, now)
            news.append(job)
        row.place, row.mark = wanted.place.key, mark
        row.label, row.as_of = chosen.label, chosen.as_of
    return news


def is_assigned(session: Session, wanted: Wanted) -> bool:
    """Whether every job of a place is tied to its forecast already."""
    rows = session.scalars(
        select(JobForecast.job).where(
            JobForecast.company_id == wanted.company_id, JobForecast.place == wanted.place.key
        )
    )
    return set(wanted.jobs) <= set(rows)


def forecast_of(session: Session, company_id: str, job: str) -> JobForecast | None:
    """The forecast a job rests on, or None while it has none."""
    return session.get(JobForecast, (company_id, job))


def digest_of(hours: Iterable[WeatherHour]) -> str:
    """Tells one forecast from another by what it holds."""
    rows = [
        [
            hour.at.isoformat(),
            hour.air_temp_c,
            hour.rh,
            hour.wind_kmh,
            hour.cloud,
            hour.solar_w_m2,
            hour.rain_mm,
        ]
        for hour in hours
    ]
    return hashlib.sha256(json.dumps(rows).encode()).hexdigest()[:32]


def row_values(
    company_id: str, place: str, hour: WeatherHour, source: str, label: str, loaded_at: datetime | None
) -> dict[str, Any]:
    """One hour as a row of the table."""
    return {
        "company_id": company_id,
        "place": place,
        "at": hour.at,
        "air_temp_c": hour.air_temp_c,
        "rh": hour.rh,
        "wind_kmh": hour.wind_kmh,
        "wind_height_m": hour.wind_height_m,
        "cloud": hour.cloud,
        "solar_w_m2": hour.solar_w_m2,
        "rain_mm": hour.rain_mm,
        "source": source,
        "label": label,
        "loaded_at": loaded_at,
    }


def _place(state: Mapping[str, Any]) -> Place | None:
    latitude, longitude = state.get("latitude_deg"), state.get("longitude_deg")
    if state.get("closed") or latitude is None or longitude is None:
        return None
    return Place.near(latitude, longitude)


def _is_ahead(state: Mapping[str, Any], looked_at: datetime | None, now: datetime) -> bool:
    pour_at = state.get("pour_at")
    if pour_at is None:
        return looked_at is not None and now - looked_at <= AFTER_LAST_LOOK
    return -AFTER_POUR <= datetime.fromisoformat(pour_at) - now <= BEFORE_POUR


def _keep_standing(session: Session, wanted: Wanted, name: str, standing: Standing) -> None:
    row = session.get(ForecastCache, (wanted.company_id, wanted.place.key, name))
    if row is None:
        row = ForecastCache(company_id=wanted.company_id, place=wanted.place.key, source=name)
        session.add(row)
    marks = standing.marks
    row.etag = marks.etag if marks.etag and len(marks.etag) <= 200 else None
    row.last_modified = marks.last_modified if len(marks.last_modified or "") <= 60 else None
    row.grid, row.label, row.issued_at = marks.grid, standing.label[:200], standing.issued_at
    row.next_at, row.failures, row.used = standing.next_at, standing.failures, standing.used
    row.why = standing.why[:200] if standing.why else None
    session.flush()


def _keep_hours(session: Session, wanted: Wanted, forecast: Forecast, now: datetime) -> None:
    place = wanted.place.key
    rows = [
        row_values(wanted.company_id, place, hour, "forecast", forecast.label[:120], now)
        for hour in forecast.hours
    ]
    new = insert_into(session, Row)
    values = {name: new.excluded[name] for name in rows[0] if name not in ("company_id", "place", "at")}
    keys = [Row.company_id, Row.place, Row.at]
    session.execute(new.on_conflict_do_update(index_elements=keys, set_=values), rows)
    session.execute(
        delete(Row).where(Row.company_id == wanted.company_id, Row.place == place, Row.at < now - HOURS_KEPT)
    )
