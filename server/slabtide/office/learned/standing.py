"""What is known of mixes, read from the store."""

from collections.abc import Sequence
from dataclasses import asdict
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.engine.prior import PourResult
from slabtide.log.instants import read_instant
from slabtide.log.model import JobView
from slabtide.office.learned.folding import Pour, known_from
from slabtide.office.learned.known import Key, Known, Prior, key_of, levels, plant_of, prior_of
from slabtide.store.learned_tables import ForecastMark, JobPrior, JobResult, MixPrior

_OF_A_POUR = (
    JobResult.job,
    JobResult.closed_at,
    JobResult.mix,
    JobResult.plant,
    JobResult.aside,
    JobResult.mean_log,
    JobResult.sd_log,
    JobResult.began_mean,
    JobResult.began_sd,
)
MOST_MIXES = 300
"""Of what is known, so many rows go to the phones: those poured last."""


def prior_for(session: Session, company_id: str, view: JobView) -> Prior | None:
    """What a job goes by. Once its pour has begun, from the jobs closed before that alone, so that what it
    goes by stays, and holds nothing of itself."""
    if view.mix is None:
        return None
    mix, plant = view.mix.name, plant_of(view)
    key, begun = key_of(mix, plant), pour_begun(view)
    if begun is None:
        return prior_of(known_rows(session, company_id), mix, plant)
    for _, each in levels(key):
        known = known_from(pours_of(session, company_id, each, before=begun, besides=view.id), each)
        if known is not None:
            return prior_of([known], mix, plant)
    return None


def pour_begun(view: JobView) -> datetime | None:
    """When the first load was batched (placed, where it has no ticket); None before any came."""
    times = [load.batched_at for load in view.loads] + [load.placed.from_ for load in view.unticketed]
    return min((read_instant(time) for time in times), default=None)


def pours_of(
    session: Session, company_id: str, key: Key, before: datetime | None = None, besides: str = ""
) -> list[Pour]:
    """The closed jobs a key stands for: of this mix and plant; an empty part stands for any."""
    query = select(*_OF_A_POUR).where(
        JobResult.company_id == company_id, JobResult.mean_log.is_not(None), JobResult.job != besides
    )
    mix_key, plant_key = key
    query = query.where(JobResult.mix_key == mix_key) if mix_key else query
    query = query.where(JobResult.plant_key == plant_key) if plant_key else query
    query = query if before is None else query.where(JobResult.closed_at < before)
    return [
        Pour(row.job, row.closed_at, row.mix, row.plant, result_of(row), row.aside is not None)
        for row in session.execute(query)
    ]


def result_of(row: object) -> PourResult | None:
    """What a row of `JobResult` holds of its mix."""
    mean, sd = getattr(row, "mean_log", None), getattr(row, "sd_log", None)
    began = (getattr(row, "began_mean", None), getattr(row, "began_sd", None))
    if mean is None or sd is None or began[0] is None or began[1] is None:
        return None
    return PourResult(mean, sd, (began[0], began[1]))


def known_rows(session: Session, company_id: str) -> Sequence[Known]:
    """All that is known for next pours, the mixes poured last first."""
    rows = session.scalars(
        select(MixPrior)
        .where(MixPrior.company_id == company_id)
        .order_by(MixPrior.last_at.desc(), MixPrior.mix_key, MixPrior.plant_key)
    )
    return [Known(row.mix, row.plant, row.pours, row.mean_log, row.sd_log) for row in rows]


def mixes_told(session: Session, company_id: str) -> list[dict[str, Any]]:
    """What is known, as phones are told it."""
    return [asdict(known) for known in known_rows(session, company_id)[:MOST_MIXES]]


def priors_told(session: Session, company_id: str) -> dict[str, dict[str, Any] | None]:
    """What each job goes by, as phones are told it."""
    query = select(JobPrior.job, JobPrior.told).where(JobPrior.company_id == company_id)
    return {row.job: row.told for row in session.execute(query.where(JobPrior.told.is_not(None)))}


def marks_kept(session: Session, company_id: str, job: str) -> Sequence[ForecastMark]:
    """Every forecast kept of a job."""
    query = select(ForecastMark).where(ForecastMark.company_id == company_id, ForecastMark.job == job)
    return session.scalars(query).all()
