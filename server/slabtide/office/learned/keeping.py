"""Writes what a look at a job taught: its forecasts kept, what it came to, what is known of its mix."""

from collections.abc import Iterable, Mapping
from typing import Any

from sqlalchemy import delete, select
from sqlalchemy.orm import Session

from slabtide.log.instants import read_instant
from slabtide.log.model import JobView
from slabtide.office.learned.folding import counted, known_from
from slabtide.office.learned.known import Key, Prior, key_of, levels, plant_of, prior_of
from slabtide.office.learned.marks import Held, Mark, works_in
from slabtide.office.learned.result import poured_at, shown_of
from slabtide.office.learned.standing import known_rows, marks_kept, pour_begun, pours_of
from slabtide.office.learned.told import told_by
from slabtide.office.working import Worked
from slabtide.store.jobs import mark_dirty
from slabtide.store.learned_tables import ForecastMark, JobPrior, JobResult, MixPrior
from slabtide.store.tables import Company

_LEARNED = ("closed_at", "mix", "plant", "mean_log", "sd_log", "began_mean", "began_sd", "aside")


def held_marks(session: Session, company_id: str, job: str) -> Held:
    """The basis of each forecast already kept of a job, by load and stage."""
    rows = session.execute(
        select(ForecastMark.load, ForecastMark.stage, ForecastMark.basis).where(
            ForecastMark.company_id == company_id, ForecastMark.job == job
        )
    )
    return {(row.load, row.stage): row.basis for row in rows}


def keep_prior(session: Session, company_id: str, view: JobView, prior: Prior | None, worked: Worked) -> None:
    """What the job goes by, and what its times began from."""
    row = session.get(JobPrior, (company_id, view.id))
    if row is None:
        row = JobPrior(company_id=company_id, job=view.id)
        session.add(row)
    row.mix_key, row.plant_key = key_of(view.mix.name if view.mix else None, plant_of(view))
    row.told = prior.as_json() if prior else None
    row.settled = pour_begun(view) is not None or view.closed is not None
    if worked.timeline is not None or worked.unchanged:
        row.began_mean, row.began_sd = worked.began or (None, None)


def keep_marks(session: Session, company_id: str, view: JobView, marks: Iterable[Mark]) -> None:
    """The forecasts of this look, over those they replace; those of loads that are gone go."""
    mine = (ForecastMark.company_id == company_id, ForecastMark.job == view.id)
    loads = [load.id for load in view.loads]
    session.execute(delete(ForecastMark).where(*mine, ForecastMark.load.not_in(loads)))
    for mark in marks:
        session.execute(
            delete(ForecastMark).where(
                *mine, ForecastMark.load == mark.load, ForecastMark.stage == mark.stage
            )
        )
        session.add_all(
            ForecastMark(
                company_id=company_id,
                job=view.id,
                load=mark.load,
                what=work,
                stage=mark.stage,
                made_at=mark.made_at,
                afterwards=mark.afterwards,
                basis=mark.basis,
                opens=opens,
                closes=closes,
            )
            for work, opens, closes in works_in(mark.windows)
        )
    session.flush()


def keep_result(session: Session, company_id: str, view: JobView, timeline: Mapping[str, Any] | None) -> None:
    """What the job came to, while it is closed; then what is known of its mix, if that moved.

    timeline -- its last times, of concrete that lies there
    """
    row = session.get(JobResult, (company_id, view.id))
    before = None if row is None else ((row.mix_key, row.plant_key), _learned(row))
    if view.closed is None:
        if row is not None:
            session.delete(row)
            session.flush()
            _known_anew(session, company_id, {(row.mix_key, row.plant_key)})
        return
    row = row or JobResult(company_id=company_id, job=view.id)
    _fill(session, row, view, timeline)
    session.add(row)
    session.flush()
    after = ((row.mix_key, row.plant_key), _learned(row))
    if before != after:
        _known_anew(session, company_id, {after[0]} | ({before[0]} if before else set()))


def _fill(session: Session, row: JobResult, view: JobView, timeline: Mapping[str, Any] | None) -> None:
    assert view.closed is not None
    prior = session.get(JobPrior, (row.company_id, row.job))
    began = None
    if prior is not None and prior.began_mean is not None and prior.began_sd is not None:
        began = (prior.began_mean, prior.began_sd)
    told = told_by(view, timeline, began)
    row.name, row.closed_at, row.poured_at = view.name, read_instant(view.closed.at), poured_at(view)
    row.mix, row.plant = view.mix.name if view.mix else "", plant_of(view) or ""
    row.mix_key, row.plant_key = key_of(row.mix, row.plant)
    row.mean_log, row.sd_log = (told.mean_log, told.sd_log) if told else (None, None)
    row.began_mean, row.began_sd = began if told and began else (None, None)
    row.aside = view.aside.why if view.aside else None
    row.shown = shown_of(view, marks_kept(session, row.company_id, row.job))
    row.month = row.shown["day"][:7]


def _learned(row: JobResult) -> tuple[Any, ...]:
    return tuple(getattr(row, name) for name in _LEARNED)


def _known_anew(session: Session, company_id: str, keys: set[Key]) -> None:
    """Fold what these mixes are known by anew, and have the jobs ahead that go by it looked at again."""
    session.execute(  # one at a time to a company: a fold must see every other's result
        select(Company.company_id).where(Company.company_id == company_id).with_for_update(key_share=True)
    )
    touched = {each for key in keys for _, each in levels(key) if each[0] or each == ("", "")}
    for key in sorted(touched):
        _fold_one(session, company_id, key)
    session.flush()
    known = known_rows(session, company_id)
    ahead = select(JobPrior).where(JobPrior.company_id == company_id, ~JobPrior.settled)
    for row in session.scalars(ahead):
        prior = prior_of(known, row.mix_key, row.plant_key) if row.mix_key else None
        if _numbers(prior.as_json() if prior else None) != _numbers(row.told):
            mark_dirty(session, company_id, row.job)


def _fold_one(session: Session, company_id: str, key: Key) -> None:
    pours = pours_of(session, company_id, key)
    known = known_from(pours, key)
    row = session.get(MixPrior, (company_id, *key))
    if known is None:
        if row is not None:
            session.delete(row)
        return
    if row is None:
        row = MixPrior(company_id=company_id, mix_key=key[0], plant_key=key[1])
        session.add(row)
    row.mix, row.plant, row.pours = known.mix, known.plant, known.pours
    row.mean_log, row.sd_log = known.mean_log, known.sd_log
    row.last_at = counted(pours)[-1].closed_at


def _numbers(told: Mapping[str, Any] | None) -> tuple[Any, ...]:
    return tuple((told or {}).get(name) for name in ("level", "pours", "set_factor", "set_factor_sd"))
