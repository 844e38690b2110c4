"""A job's outlook: its log folded, its weather gathered, its timeline computed and kept."""

import hashlib
import json
import logging
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.engine import forecast
from slabtide.engine.contract import ContractError, read_pour, write_timeline
from slabtide.log.fold import fold
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.pour import PlannedPour, planned_pour, pour_json
from slabtide.office.stored_weather import stored_hours
from slabtide.office.wording import problem_of_contract
from slabtide.store.tables import Event, JobOutlook
from slabtide.weather.assemble import Assembled, weather_for
from slabtide.weather.contract import Problem

HORIZON = timedelta(hours=120)
BEFORE_BATCHING = timedelta(hours=1)
AHEAD_OF_US = timedelta(minutes=10)  # how far a check's time may lie ahead of the server's clock
LOOK_AGAIN = timedelta(hours=1)
_NO_WEATHER: dict[str, Any] = {
    "source": "none",
    "label": "No weather yet",
    "covers_from": None,
    "covers_to": None,
    "as_of": None,
    "noted": 0,
    "noted_at": None,
}
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Computed:
    """What one look at a job gave. `timeline` is None where it couldn't be computed, or need not be again
    (`unchanged`). `recompute_after`: when to look again though no event came."""

    company_id: str
    job: str
    view: JobView
    devices: tuple[str, ...]
    weather: dict[str, Any]
    problem: Problem | None
    timeline: dict[str, Any] | None
    planned: bool
    assumptions: tuple[str, ...]
    input_hash: str
    unchanged: bool
    computed_at: datetime
    recompute_after: datetime | None


def recompute(session: Session, company_id: str, job: str, now: datetime) -> JobOutlook:
    """Bring the outlook of a job up to date at `now`, inside the caller's write transaction.

    What can't be computed becomes the outlook's `problem`, in words.
    """
    return keep(session, compute(session, company_id, job, now))


def compute(session: Session, company_id: str, job: str, now: datetime) -> Computed:
    """Look at a job: reads only, so that the engine runs outside any write lock."""
    events = list(session.scalars(select(Event).where(Event.company_id == company_id, Event.job == job)))
    view = view_job(fold(events, job))
    devices = tuple(sorted({event.device for event in events}))
    pour = planned_pour(view)
    if isinstance(pour, Problem):
        return _without_timeline(company_id, view, devices, dict(_NO_WEATHER), pour, False, now)
    stored = stored_hours(session, company_id, job, pour.begins - 2 * BEFORE_BATCHING, pour.ends + HORIZON)
    weather = weather_for(view, stored, pour.begins - BEFORE_BATCHING, pour.ends + HORIZON)
    if weather.covers_to is None or weather.covers_to < pour.ends:
        problem = weather.problem or Problem(
            "weather_missing", "There is no weather for the pour.", "Enter low and high for the day."
        )
        return _without_timeline(
            company_id, view, devices, _weather_json(weather), problem, pour.planned, now
        )
    prior = session.get(JobOutlook, (company_id, job))
    return _with_timeline(company_id, view, devices, pour, weather, prior, now)


def keep(session: Session, computed: Computed) -> JobOutlook:
    """Write what was computed. Where a problem hides the times of a slab already placed, the last good ones
    stay and the problem says so: a typing slip must not silence the saw."""
    row = session.get(JobOutlook, (computed.company_id, computed.job))
    problem = computed.problem.as_json() if computed.problem else None
    if row is None:
        row = JobOutlook(company_id=computed.company_id, job=computed.job)
        session.add(row)
    elif computed.unchanged and row.problem == problem and row.weather == computed.weather:
        return row
    stale = (
        computed.timeline is None
        and not computed.unchanged
        and not computed.planned
        and bool(computed.view.loads or computed.view.unticketed)
        and row.timeline is not None
        and not row.planned
    )
    if stale and problem:
        problem["message"] += f" The times shown were computed at {write_instant(row.computed_at)}."
    row.weather, row.problem = computed.weather, problem
    row.input_hash = "" if stale else computed.input_hash  # what is wrong is looked at again each time
    if not stale:
        row.computed_at, row.planned = computed.computed_at, computed.planned
        row.assumptions = list(computed.assumptions)
        if not computed.unchanged:
            row.timeline = computed.timeline
    session.flush()
    return row


def _with_timeline(
    company_id: str,
    view: JobView,
    devices: tuple[str, ...],
    pour: PlannedPour,
    weather: Assembled,
    prior: JobOutlook | None,
    now: datetime,
) -> Computed:
    data, assumptions = pour_json(view, pour, weather.hours)
    digest = _hash(data, now)
    unchanged = prior is not None and prior.input_hash == digest and prior.timeline is not None
    timeline, problem = (None, weather.problem) if unchanged else _forecast(data, view, now)
    return Computed(
        company_id,
        view.id,
        view,
        devices,
        _weather_json(weather),
        problem or weather.problem,
        timeline,
        pour.planned,
        assumptions,
        digest,
        unchanged,
        now,
        _look_again(view, pour, now),
    )


def _forecast(
    data: dict[str, Any], view: JobView, now: datetime
) -> tuple[dict[str, Any] | None, Problem | None]:
    seen = max((read_instant(check["at"]) for check in data["checks"]), default=now)
    at = max(now, min(seen, now + AHEAD_OF_US))
    try:
        return dict(write_timeline(forecast(read_pour(data), at))), None
    except ContractError as error:
        return None, problem_of_contract(error.problems, view)
    except Exception:  # noqa: BLE001  (the engine failed at this job: said to people, logged for us, others go on)
        _log.exception("the timeline of job %s could not be computed", view.id)
        words = "The times could not be computed from what is entered."
        return None, Problem("engine_failed", words, "Check the slab, the mix and the load times.")


def _without_timeline(
    company_id: str,
    view: JobView,
    devices: tuple[str, ...],
    weather: dict[str, Any],
    problem: Problem,
    planned: bool,
    now: datetime,
) -> Computed:
    return Computed(
        company_id, view.id, view, devices, weather, problem, None, planned, (), "", False, now, None
    )


def _look_again(view: JobView, pour: PlannedPour, now: datetime) -> datetime | None:
    """Hourly while the slab waits for the saw: what was forecast becomes past, and the times get surer."""
    waits = not pour.planned and not view.cuts_done and view.closed is None
    return now + LOOK_AGAIN if waits and now < pour.ends + HORIZON else None


def _hash(data: dict[str, Any], now: datetime) -> str:
    """Tells inputs apart; a new hour is a new input."""
    text = json.dumps([data, now.strftime("%Y-%m-%dT%H")], sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _weather_json(weather: Assembled) -> dict[str, Any]:
    return {
        "source": weather.source,
        "label": weather.label,
        "covers_from": _iso(weather.covers_from),
        "covers_to": _iso(weather.covers_to),
        "as_of": _iso(weather.as_of),
        "noted": weather.readings,
        "noted_at": _iso(weather.noted),
    }


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else write_instant(moment)
