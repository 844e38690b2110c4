"""A job's outlook: its log folded, its times worked out from the stored weather, and kept."""

from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.log.fold import fold
from slabtide.log.instants import write_instant
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.days.reach import weather_until
from slabtide.office.learned.keeping import held_marks, keep_marks, keep_prior, keep_result
from slabtide.office.learned.known import Prior
from slabtide.office.learned.marks import Mark, marks_of
from slabtide.office.learned.standing import prior_for
from slabtide.office.pour import planned_pour
from slabtide.office.stored_weather import stored_hours
from slabtide.office.working import HORIZON, Worked, last_times_stay, of_then, work_out
from slabtide.store.tables import Event, JobOutlook
from slabtide.weather.contract import HourlySeries, Problem
from slabtide.weather.packed import pack

SENT_BEFORE, SENT_AFTER = timedelta(hours=26), timedelta(hours=48)
"""How far beyond the pour's own hours a phone is sent more: it may move the pour without a signal."""


@dataclass(frozen=True, slots=True)
class Computed:
    """What one look at a job gave: its log as a view, its times, and its weather as phones are sent it; what
    it goes by for its mix, and which forecasts are to be kept."""

    company_id: str
    job: str
    view: JobView
    devices: tuple[str, ...]
    worked: Worked
    weather: dict[str, Any]
    computed_at: datetime
    prior: Prior | None
    marks: tuple[Mark, ...]


def compute(session: Session, company_id: str, job: str, now: datetime) -> Computed:
    """Look at a job: reads only, so that the engine runs outside any write lock."""
    events = list(session.scalars(select(Event).where(Event.company_id == company_id, Event.job == job)))
    view = view_job(fold(events, job))
    last = session.get(JobOutlook, (company_id, job))
    known = last.input_hash if last is not None and last.timeline is not None else None

    def stored(start: datetime, end: datetime) -> HourlySeries | None:
        return stored_hours(session, company_id, job, start, end)

    prior = prior_for(session, company_id, view)
    worked = work_out(view, stored, now, known, prior)
    held = held_marks(session, company_id, view.id)
    return Computed(
        company_id=company_id,
        job=view.id,
        view=view,
        devices=tuple(sorted({event.device for event in events})),
        worked=worked,
        weather=worked.weather | {"hours": _hours_for_the_phone(session, company_id, view, now)},
        computed_at=now,
        prior=prior,
        marks=tuple(marks_of(view, stored, now, prior, worked, held)),
    )


def keep(session: Session, computed: Computed) -> JobOutlook:
    """Write what was computed, and what it taught."""
    row = _keep_times(session, computed)
    company_id, view = computed.company_id, computed.view
    keep_prior(session, company_id, view, computed.prior, computed.worked)
    keep_marks(session, company_id, view, computed.marks)
    keep_result(session, company_id, view, None if row.planned else row.timeline)
    return row


def _keep_times(session: Session, computed: Computed) -> JobOutlook:
    """Where a problem hides the times of a slab already placed, the last good ones
    stay and the problem says so."""
    row = session.get(JobOutlook, (computed.company_id, computed.job))
    worked = computed.worked
    problem = worked.problem.as_json() if worked.problem else None
    if row is None:
        row = JobOutlook(company_id=computed.company_id, job=computed.job)
        session.add(row)
    elif worked.unchanged and row.problem == problem and row.weather == computed.weather:
        return row
    stale = last_times_stay(computed.view, worked, row.timeline is not None and not row.planned)
    if stale and problem:
        problem = of_then(problem, write_instant(row.computed_at))
    row.weather, row.problem = computed.weather, problem
    row.input_hash = "" if stale else worked.input_hash  # what is wrong is looked at again each time
    if not stale:
        row.computed_at, row.planned = computed.computed_at, worked.planned
        row.assumptions = [one.as_json() for one in worked.assumptions]
        if not worked.unchanged:
            row.timeline = worked.timeline
    session.flush()
    return row


def _hours_for_the_phone(
    session: Session, company_id: str, view: JobView, now: datetime
) -> dict[str, Any] | None:
    """The stored hours around the pour (around today while there is none), for a phone to compute with."""
    pour = planned_pour(view)
    begins, ends = (now, now) if isinstance(pour, Problem) else (pour.begins, pour.ends)
    start, end = begins - SENT_BEFORE, weather_until(view, begins, ends + HORIZON, now) + SENT_AFTER
    return pack(stored_hours(session, company_id, view.id, start, end))
