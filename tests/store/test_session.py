"""Transactions: what a session promises."""

from __future__ import annotations

import threading
from datetime import UTC, datetime, timedelta, timezone

import pytest
from flask import Flask
from flask_migrate import check
from sqlalchemy import func, insert, select, text
from sqlalchemy.exc import IntegrityError

from slabtide.store import migrated
from slabtide.store.session import read, write
from slabtide.store.tables import Company, CompanyCounter, WeatherHour


def test_migrations_and_models_agree(app: Flask) -> None:
    with app.app_context():
        check()
    assert migrated.current(app) == migrated.head()


def test_sqlite_commits_survive_power_loss_by_its_settings(app: Flask) -> None:
    with app.app_context(), read() as session:
        assert session.scalar(text("PRAGMA journal_mode")) == "wal"
        assert session.scalar(text("PRAGMA synchronous")) == 2


def test_a_moment_reads_back_as_it_was_written_whatever_its_zone(app: Flask, company: str) -> None:
    at = datetime(2026, 7, 14, 8, 5, 0, 123456, tzinfo=timezone(timedelta(hours=-5)))
    hour = WeatherHour(
        company_id=company,
        place="yard",
        at=at,
        air_temp_c=20.0,
        rh=0.5,
        wind_kmh=5.0,
        source="file",
        label="x",
    )
    with app.app_context():
        with write() as session:
            session.add(hour)
        with read() as session:
            found = session.scalars(select(WeatherHour)).one().at
    assert found == at
    assert found.tzinfo is UTC


def test_a_moment_without_a_zone_is_refused(app: Flask) -> None:
    with app.app_context(), pytest.raises(Exception, match="no time zone"), write() as session:
        session.add(Company(company_id="c", name="n", created_at=datetime(2026, 1, 1)))


def add_the_same_twice(company_id: str) -> None:
    row = {"company_id": company_id, "name": "n", "created_at": datetime.now(UTC)}
    with write() as session:
        session.execute(insert(Company).values(row))
        session.execute(insert(Company).values(row))


def test_a_failed_write_leaves_nothing(app: Flask) -> None:
    with app.app_context():
        with pytest.raises(IntegrityError):
            add_the_same_twice("c")
        with read() as session:
            assert session.scalar(select(func.count()).select_from(Company)) == 0


def test_eight_writers_that_read_first_are_never_told_the_database_is_locked(
    app: Flask, company: str
) -> None:
    failures: list[Exception] = []

    def add_fifty() -> None:
        try:
            for _ in range(50):
                with app.app_context(), write() as session:
                    session.get_one(CompanyCounter, company).seq += 1
        except Exception as error:  # noqa: BLE001  (whatever it is, the test shows it)
            failures.append(error)

    threads = [threading.Thread(target=add_fifty) for _ in range(8)]
    for thread in threads:
        thread.start()
    for thread in threads:
        thread.join()
    assert failures == []
    with app.app_context(), read() as session:
        assert session.get_one(CompanyCounter, company).seq == 400
