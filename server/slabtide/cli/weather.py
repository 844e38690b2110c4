"""`slabtide weather load`: hours from a file, kept for a job."""

from __future__ import annotations

import re
import uuid
from argparse import Namespace
from datetime import UTC, date, datetime
from pathlib import Path

from slabtide.app import create_app
from slabtide.cli.telling import in_words
from slabtide.errors import AppError
from slabtide.office.stored_weather import load_file
from slabtide.people.companies import find_company
from slabtide.store import database
from slabtide.store.session import write
from slabtide.weather.contract import WeatherError


@in_words
def load(wanted: Namespace) -> int:
    """Read the file whole, then put its hours in the place of those the job had."""
    job, onto, like = _job(wanted.job), _day(wanted.shift_to), _month_and_day(wanted.like)
    path = Path(wanted.file)
    try:
        text = path.read_text(encoding="utf-8-sig")
    except (OSError, UnicodeDecodeError) as problem:
        raise AppError(f"{path} can't be read: {problem}.", "Check the file's name.") from None
    app = create_app()
    try:
        with app.app_context():
            company_id = find_company(wanted.company)
            with write() as session:
                series = load_file(session, company_id, job, text, path.name, onto, datetime.now(UTC), like)
    except WeatherError as problem:
        raise AppError(f"{path}: {problem}", "Nothing was changed.") from None
    finally:
        database.dispose(app)
    first, last = series.hours[0].at, series.hours[-1].at
    print(f"{series.label}: {len(series.hours)} hours, {first:%Y-%m-%d %H:%M} to {last:%Y-%m-%d %H:%M} UTC.")
    return 0


def _job(text: str) -> str:
    try:
        return str(uuid.UUID(text))
    except ValueError:
        raise AppError(f"{text} is no job's id.", "Copy it from the job's address in the app.") from None


def _day(text: str | None) -> date | None:
    if text is None:
        return None
    try:
        return date.fromisoformat(text)
    except ValueError:
        raise AppError(f"--shift-to {text} is no date.", "Give it like 2026-07-14.") from None


def _month_and_day(text: str | None) -> tuple[int, int] | None:
    if text is None:
        return None
    found = re.fullmatch(r"(\d{2})-(\d{2})", text)
    try:
        if found is None:
            raise ValueError
        day = date(2000, int(found[1]), int(found[2]))
    except ValueError:
        raise AppError(f"--like {text} is no day of a year.", "Give it like 07-14.") from None
    return day.month, day.day
