"""Companies: made on the command line, one or many to a server."""

from __future__ import annotations

import uuid
from datetime import UTC, datetime

from sqlalchemy import select

from slabtide.errors import AppError, NotFoundError
from slabtide.store.session import read, write
from slabtide.store.tables import Company, CompanyCounter


def create_company(name: str) -> str:
    """Make a company called `name` (1 to 80 characters) and give its id."""
    name = name.strip()
    if not 1 <= len(name) <= 80:
        raise AppError("A company's name has 1 to 80 characters.", "Give a shorter name.", path="name")
    company_id = str(uuid.uuid4())
    with write() as session:
        session.add(Company(company_id=company_id, name=name, created_at=datetime.now(UTC)))
        session.flush()  # the counter refers to the company, and no relationship tells the order
        session.add(CompanyCounter(company_id=company_id, seq=0))
    return company_id


def find_company(wanted: str | None) -> str:
    """The id of the company with this id or name; of the only one there is when `wanted` is left out."""
    known_companies = all_companies()
    found = [pair for pair in known_companies if wanted is None or wanted in pair]
    if len(found) == 1:
        return found[0][1]
    known = ", ".join(f"{name} ({company_id})" for name, company_id in known_companies)
    if not known_companies:
        raise NotFoundError("There is no company yet.", "Make one: slabtide company create NAME")
    raise NotFoundError(f"{len(found)} companies fit. Known: {known}.", "Name one with --company ID.")


def all_companies() -> list[tuple[str, str]]:
    """Name and id of every company, by name."""
    with read() as session:
        rows = session.execute(select(Company.name, Company.company_id).order_by(Company.name)).all()
    return [(name, company_id) for name, company_id in rows]
