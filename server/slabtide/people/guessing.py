"""The limit on guessing codes, kept in the database so that all processes and restarts share one count."""

from __future__ import annotations

import uuid
from datetime import datetime, timedelta
from http import HTTPStatus

from sqlalchemy import delete, func, select

from slabtide.errors import AppError
from slabtide.store.session import write
from slabtide.store.tables import JoinAttempt

WINDOW = timedelta(minutes=10)
PER_ADDRESS = 10
IN_ALL = 100


class TooManyCodesError(AppError):
    """Too many wrong codes of late, from this address or in all."""

    code = "too_many_codes"
    status = HTTPStatus.TOO_MANY_REQUESTS
    retry_after_s = int(WINDOW.total_seconds())

    def __init__(self) -> None:
        super().__init__("Too many wrong codes.", "Wait ten minutes, then ask for a fresh code.")


def begin_attempt(address: str, now: datetime) -> str:
    """Count an attempt before it is known to be wrong, so that many at once can't slip by.

    Gives the attempt's id for `forgive`. Raises `TooManyCodesError`.
    """
    attempt = JoinAttempt(id=str(uuid.uuid4()), address=address[:64], at=now)
    with write() as session:
        session.execute(delete(JoinAttempt).where(JoinAttempt.at <= now - WINDOW))
        here = func.count().filter(JoinAttempt.address == attempt.address)
        from_address, in_all = session.execute(select(here, func.count()).select_from(JoinAttempt)).one()
        if from_address >= PER_ADDRESS or in_all >= IN_ALL:
            raise TooManyCodesError
        session.add(attempt)
    return attempt.id


def forgive(attempt_id: str) -> None:
    """Take back an attempt whose code turned out to be one of ours."""
    with write() as session:
        session.execute(delete(JoinAttempt).where(JoinAttempt.id == attempt_id))
