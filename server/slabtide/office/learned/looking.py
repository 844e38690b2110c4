"""Looking back: the company's closed jobs as one answer, from their rows and no log."""

import math
from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import ColumnElement, select
from sqlalchemy.orm import Session

from slabtide.errors import NotFoundError
from slabtide.office.learned.asking import Asked
from slabtide.office.learned.folding import Pour, moved_by, path
from slabtide.office.learned.known import BOOK, Key, Known, key_of
from slabtide.office.learned.measured import Seen, callbacks_json, kept_json, pace_json, waste_json
from slabtide.office.learned.standing import pours_of, result_of
from slabtide.store.learned_tables import JobResult

MOST_MIXES = 12
MOST_STEPS = 40
_Z_10 = 1.2815515655446004
_COLUMNS = (
    JobResult.job,
    JobResult.name,
    JobResult.mix,
    JobResult.plant,
    JobResult.mix_key,
    JobResult.plant_key,
    JobResult.shown,
    JobResult.mean_log,
)


def look_back(session: Session, company_id: str, asked: Asked) -> dict[str, Any]:
    """Everything the closed jobs asked for say, and what else could be asked for."""
    rows = [row for row in session.execute(_query(company_id, asked)) if _in_days(row.shown["day"], asked)]
    jobs = [Seen(row.job, row.name, row.shown["day"], row.mix, row.plant, row.shown) for row in rows]
    learned = {job.job: job for job, row in zip(jobs, rows, strict=True) if row.mean_log is not None}
    keys = dict.fromkeys((row.mix_key, row.plant_key) for row in reversed(rows) if row.job in learned)
    return {
        "asked": asked.as_json(),
        "choices": _choices(session, company_id),
        "jobs": len(jobs),
        "kept": kept_json(jobs),
        "pace": pace_json(jobs),
        "set_factor": [_mix_json(session, company_id, key, learned) for key in list(keys)[:MOST_MIXES]],
        "callbacks": callbacks_json(jobs),
        "waste": waste_json(jobs),
    }


def taught_json(session: Session, company_id: str, job: str) -> dict[str, Any]:
    """What one closed job told of its mix, and what that moved. Raises `NotFoundError` for one not closed."""
    row = session.get(JobResult, (company_id, job))
    if row is None:
        raise NotFoundError("This job is not closed, or not known here.", "Close it, then sync.")
    key = (row.mix_key, row.plant_key)
    moved = moved_by(pours_of(session, company_id, key), key, job)
    told = result_of(row)
    return {
        "job": job,
        "mix": row.mix,
        "plant": row.plant,
        "aside": row.aside,
        "told": told and {"percent": _percent(told.mean_log), "doubt_percent": _doubt(told.sd_log)},
        "before": _known_json(moved.before),
        "after": _known_json(moved.after),
        "book_doubt_percent": _doubt(BOOK[1]),
    }


def _query(company_id: str, asked: Asked) -> Any:
    """Rows of the months the days asked for lie in; which day it was stands in the row itself."""
    wanted: list[ColumnElement[bool]] = [JobResult.company_id == company_id]
    mix_key, plant_key = key_of(asked.mix, asked.plant)
    if mix_key:
        wanted.append(JobResult.mix_key == mix_key)
    if plant_key:
        wanted.append(JobResult.plant_key == plant_key)
    if asked.month:
        wanted.append(JobResult.month == asked.month)
    if asked.first:
        wanted.append(JobResult.month >= asked.first.isoformat()[:7])
    if asked.last:
        wanted.append(JobResult.month <= asked.last.isoformat()[:7])
    return select(*_COLUMNS).where(*wanted).order_by(JobResult.closed_at, JobResult.job)


def _in_days(day: str, asked: Asked) -> bool:
    after = asked.first is None or day >= asked.first.isoformat()
    return after and (asked.last is None or day <= asked.last.isoformat())


def _choices(session: Session, company_id: str) -> dict[str, list[str]]:
    def names(column: Any, key: Any) -> list[str]:
        found = session.execute(select(column, key).where(JobResult.company_id == company_id).distinct())
        return sorted({row[1]: row[0] for row in found if row[1]}.values(), key=str.casefold)

    months = select(JobResult.month).where(JobResult.company_id == company_id).distinct()
    return {
        "mixes": names(JobResult.mix, JobResult.mix_key),
        "plants": names(JobResult.plant, JobResult.plant_key),
        "months": sorted(session.scalars(months), reverse=True),
    }


def _mix_json(session: Session, company_id: str, key: Key, jobs: Mapping[str, Seen]) -> dict[str, Any]:
    """A mix from a plant through time: each pour, and what was known after it."""
    pours = pours_of(session, company_id, key)
    steps = path(pours, key, MOST_STEPS)
    shown = [pour for pour in sorted(pours, key=_closing) if pour.job in jobs][-MOST_STEPS:]
    last = steps[-1][1] if steps else None
    return {
        "mix": shown[-1].mix,
        "plant": shown[-1].plant,
        "known": _known_json(last),
        "points": list(_points(shown, jobs, {pour.job: known for pour, known in steps})),
    }


def _points(
    pours: Iterable[Pour], jobs: Mapping[str, Seen], after: Mapping[str, Known]
) -> Iterable[dict[str, Any]]:
    for pour in pours:
        if pour.told is None:
            continue
        mean, reach = pour.told.mean_log, _Z_10 * pour.told.sd_log
        yield jobs[pour.job].named | {
            "percent": _percent(mean),
            "low_percent": _percent(mean - reach),
            "high_percent": _percent(mean + reach),
            "aside": pour.aside,
            "after": _known_json(after.get(pour.job)),
        }


def _known_json(known: Known | None) -> dict[str, Any] | None:
    if known is None:
        return None
    numbers = {"percent": _percent(known.mean_log), "doubt_percent": _doubt(known.sd_log)}
    return {"pours": known.pours} | numbers


def _closing(pour: Pour) -> tuple[Any, str]:
    return pour.closed_at, pour.job


def _percent(log: float) -> float:
    """Slower than the mix's curve says, below zero faster."""
    return round(100 * (math.exp(log) - 1), 1)


def _doubt(sd: float) -> float:
    return round(100 * sd, 1)
