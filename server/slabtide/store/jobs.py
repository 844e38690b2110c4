"""Which jobs have news that their outlook does not know yet."""

from __future__ import annotations

from datetime import UTC, datetime

from sqlalchemy import or_, select, update
from sqlalchemy.orm import Session

from slabtide.store.tables import JobMark
from slabtide.store.upsert import insert_into


def mark_dirty(session: Session, company_id: str, job: str, now: datetime | None = None) -> None:
    """Note that `job` changed at `now` (the server's clock when left out). Cheap to call again and again."""
    now = now or datetime.now(UTC)
    new = insert_into(session, JobMark).values(
        company_id=company_id, job=job, dirty=True, dirty_since=now, version=1
    )
    session.execute(
        new.on_conflict_do_update(
            index_elements=[JobMark.company_id, JobMark.job],
            set_={"dirty": True, "dirty_since": now, "version": JobMark.version + 1},
        )
    )


def due_jobs(session: Session, now: datetime, limit: int = 50) -> list[JobMark]:
    """Jobs to recompute: marked dirty, or whose `recompute_after` has come. Longest waiting first."""
    query = (
        select(JobMark)
        .where(or_(JobMark.dirty, JobMark.recompute_after <= now))
        .order_by(JobMark.dirty_since)
        .limit(limit)
    )
    return list(session.scalars(query))


def clear_mark(session: Session, mark: JobMark, recompute_after: datetime | None = None) -> bool:
    """Note that `mark` is worked off; False when news came meanwhile and the job stays dirty."""
    done = session.execute(
        update(JobMark)
        .where(
            JobMark.company_id == mark.company_id, JobMark.job == mark.job, JobMark.version == mark.version
        )
        .values(dirty=False, dirty_since=None, recompute_after=recompute_after)
        .returning(JobMark.job)
        .execution_options(synchronize_session=False)
    )
    return done.first() is not None
