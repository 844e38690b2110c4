"""Whose turn it is to ask for a place: of many server processes one asks, and none waits for one that died.

A turn is a row with a holder and an end. It is given back with the answer; a holder that dies leaves it to
run out. All times are given, none is read.
"""

from datetime import datetime, timedelta

from sqlalchemy import or_, update
from sqlalchemy.orm import Session

from slabtide.office.forecast_rows import Wanted
from slabtide.store.tables import ForecastTurn
from slabtide.store.upsert import insert_into

LASTS = timedelta(minutes=2)
"""Longer than all sources together may take for one place: five calls of ten seconds at most."""


def take(session: Session, wanted: Wanted, holder: str, at: datetime) -> bool:
    """Whether `holder` has the turn for a place from `at` on. Needs a write transaction, committed before
    anyone is asked."""
    new = insert_into(session, ForecastTurn).values(
        company_id=wanted.company_id, place=wanted.place.key, holder=holder, until=at + LASTS
    )
    taken = session.execute(
        new.on_conflict_do_update(
            index_elements=[ForecastTurn.company_id, ForecastTurn.place],
            set_={"holder": holder, "until": at + LASTS},
            where=or_(ForecastTurn.until <= at, ForecastTurn.holder == holder),
        )
        .returning(ForecastTurn.holder)
        .execution_options(synchronize_session=False)
    )
    return taken.first() is not None


def give_back(session: Session, wanted: Wanted, holder: str, at: datetime) -> bool:
    """End the turn of `holder`; False where another has taken it over, whose answer then counts."""
    ended = session.execute(
        update(ForecastTurn)
        .where(
            ForecastTurn.company_id == wanted.company_id,
            ForecastTurn.place == wanted.place.key,
            ForecastTurn.holder == holder,
        )
        .values(until=at)
        .returning(ForecastTurn.holder)
        .execution_options(synchronize_session=False)
    )
    return ended.first() is not None
