"""However many jobs: nothing the office looks at, and no tick, walks through a table that grows."""

from collections.abc import Callable
from typing import Any

import pytest
from flask import Flask
from scripts.benches.busy_company.plans import whole_tables_walked
from scripts.benches.busy_company.rows import Busy, at_this_hour, fill
from sqlalchemy import func, select, text
from tests.conftest import Joined

from slabtide.office.board import board_json
from slabtide.office.board_pick import Choice
from slabtide.office.exports.job_json import job_json
from slabtide.reminders import worker
from slabtide.reminders.life import life_json
from slabtide.store.session import read
from slabtide.store.tables import BoardRow, Event, Reminder

JOBS, EVENTS = 120, 2400


@pytest.fixture
def busy(app: Flask, join: Callable[..., Joined]) -> Busy:
    who = join("foreman", name="Ana")
    made = Busy(who.company, who.device, who.person, JOBS, EVENTS, at_this_hour())
    fill(app, made)
    return made


def looked_at(busy: Busy, what: str) -> Callable[[], Any]:
    """One thing the office does, as work to be watched."""
    company, now, job = busy.company_id, busy.now, busy.job(0)

    def ask(work: Callable[[Any], Any]) -> Any:
        with read() as session:
            return work(session)

    return {
        "board": lambda: ask(lambda session: board_json(session, company, now, Choice(limit=60))),
        "search": lambda: ask(
            lambda session: board_json(session, company, now, Choice(search="patio", limit=60))
        ),
        "job": lambda: ask(lambda session: job_json(session, company, job)),
    }[what]


@pytest.mark.parametrize("what", ["board", "search", "job"])
def test_what_the_office_looks_at_reads_by_index(app: Flask, busy: Busy, what: str) -> None:
    with app.app_context():
        assert whole_tables_walked(app, looked_at(busy, what)) == {}


def test_a_life_reads_by_index(app: Flask, busy: Busy) -> None:
    with app.app_context():
        with read() as session:
            one = session.scalars(select(Reminder.id).limit(1)).one()

        def look() -> None:
            with read() as session:
                life_json(session, busy.company_id, one)

        assert whole_tables_walked(app, look) == {}


def test_a_tick_without_news_reads_by_index(app: Flask, busy: Busy) -> None:
    worker.tick(app, busy.now)
    with app.app_context():
        assert whole_tables_walked(app, lambda: worker.tick(app, busy.now)) == {}
    worker.close(app)


def test_the_watch_on_plans_sees_a_whole_table_walked(app: Flask, busy: Busy) -> None:
    def walk() -> None:
        with read() as session:
            session.execute(text("SELECT count(*) FROM event WHERE kind = 'note.written'")).all()

    with app.app_context():
        assert len(whole_tables_walked(app, walk)) == 1


def test_the_busy_company_holds_what_it_says(app: Flask, busy: Busy) -> None:
    with app.app_context(), read() as session:
        assert session.scalar(select(func.count()).select_from(Event)) == EVENTS
        assert session.scalar(select(func.count()).select_from(BoardRow).where(BoardRow.open)) == JOBS
        found = board_json(session, busy.company_id, busy.now, Choice(limit=60))
    assert (len(found["jobs"]), found["total"]) == (60, JOBS)
    assert sum(found["counts"].values()) == JOBS


def test_pages_add_up_to_the_whole_board_in_its_order(app: Flask, busy: Busy) -> None:
    with app.app_context(), read() as session:
        whole = board_json(session, busy.company_id, busy.now)["jobs"]
        parts = [
            job["job"]
            for skip in range(0, JOBS, 50)
            for job in board_json(session, busy.company_id, busy.now, Choice(skip=skip, limit=50))["jobs"]
        ]
    assert parts == [job["job"] for job in whole]
    assert len(set(parts)) == JOBS


@pytest.mark.parametrize(
    ("choice", "fits"),
    [
        (Choice(search="harbor patio"), lambda job: "Harbor patio" in job["name"]),
        (Choice(phase="ready"), lambda job: job["phase"] == "ready"),
        (Choice(show="late"), lambda job: job["standing"] != "steady"),
    ],
)
def test_a_search_finds_what_fits_and_nothing_else(
    app: Flask, busy: Busy, choice: Choice, fits: Callable[[Any], bool]
) -> None:
    with app.app_context(), read() as session:
        whole = board_json(session, busy.company_id, busy.now)["jobs"]
        found = board_json(session, busy.company_id, busy.now, choice)["jobs"]
    assert {job["job"] for job in found} == {job["job"] for job in whole if fits(job)}
    assert 0 < len(found) < JOBS
