"""Invites: made by foreman or office, spent once by a POST."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import datetime, timedelta
from http import HTTPStatus

import segno
from sqlalchemy import select, update
from sqlalchemy.orm import Session

from slabtide.errors import AppError
from slabtide.people import codes
from slabtide.people.access import ROLES
from slabtide.people.joining import Enrolled, enrol, people_named
from slabtide.store import meta
from slabtide.store.session import read, write
from slabtide.store.tables import Company, Invite, Person


class CodeUnknownError(AppError):
    """No invite has this code."""

    code = "code_unknown"
    status = HTTPStatus.NOT_FOUND

    def __init__(self) -> None:
        super().__init__("This code is not known.", "Check it letter by letter, or ask for a new one.")


class CodeExpiredError(AppError):
    """The invite was spent, or its time is over."""

    code = "code_expired"
    status = HTTPStatus.GONE

    def __init__(self, reason: str) -> None:
        super().__init__(reason, "Ask the foreman or the office for a new code.")


class PersonUnclearError(AppError):
    """The invite is meant for someone, and it is not clear for whom."""

    code = "person_unclear"
    status = HTTPStatus.CONFLICT


@dataclass(frozen=True, slots=True)
class Invited:
    """A fresh invite. The code is nowhere else: the database keeps its hash."""

    code: str
    role: str
    expires_at: datetime
    person_id: str | None
    person_name: str | None


def invite(
    company_id: str,
    role: str,
    *,
    now: datetime,
    minutes: int,
    by: str | None = None,
    person_name: str | None = None,
    person_id: str | None = None,
) -> Invited:
    """Make a one-time code for `role`, good for `minutes`.

    With the name or id of someone already in the company, the device that joins becomes that person's.
    """
    if role not in ROLES:
        raise AppError(f"There is no role {role!r}.", f"Choose one of {', '.join(ROLES)}.", path="role")
    code = codes.new_code()
    with write() as session:
        person = _meant(session, company_id, person_name, person_id)
        row = Invite(
            company_id=company_id,
            id=str(uuid.uuid4()),
            code_hash=codes.code_hash(code, _salt(session)),
            role=role,
            person_id=person.id if person else None,
            created_by=by,
            created_at=now,
            expires_at=now + timedelta(minutes=minutes),
        )
        session.add(row)
    return Invited(code, role, row.expires_at, row.person_id, person.name if person else None)


def redeem(
    typed: str, person_name: str, *, device_name: str, language: str, now: datetime
) -> tuple[Enrolled, str, str]:
    """Spend a code and enrol the device: what it got, the company's id and name.

    Raises `CodeUnknownError` or `CodeExpiredError`. Of many calls at once, one succeeds.
    """
    code = codes.read_code(typed)
    if code is None:
        raise CodeUnknownError
    with read() as session:
        salt = _salt(session)
    hashed = codes.code_hash(code, salt)  # slow on purpose, so outside the write lock
    with write() as session:
        row = _spend(session, hashed, now)
        enrolled = enrol(
            session,
            row.company_id,
            person_name,
            row.role,
            device_name=device_name,
            language=language,
            now=now,
            person_id=row.person_id,
        )
        row.spent_by = enrolled.device_id
        company = session.get_one(Company, row.company_id)
        return enrolled, company.company_id, company.name


def link(base_url: str, code: str) -> str:
    """The address that opens the join page. The code stands behind the #, which no server log sees."""
    return f"{base_url}/#/join/{code}"


def qr_svg(address: str) -> str:
    """`address` as a QR code, SVG text to set into a page."""
    picture: str = segno.make(address, error="m").svg_inline(scale=6, border=4, dark="#111", light="#fff")
    return picture


def _spend(session: Session, hashed: str, now: datetime) -> Invite:
    row = session.scalar(select(Invite).where(Invite.code_hash == hashed))
    if row is None:
        raise CodeUnknownError
    if row.expires_at <= now:
        raise CodeExpiredError("This code is too old.")
    spent = session.execute(
        update(Invite)
        .where(Invite.company_id == row.company_id, Invite.id == row.id, Invite.spent_at.is_(None))
        .values(spent_at=now)
        .returning(Invite.id)
        .execution_options(synchronize_session=False)
    )
    if spent.first() is None:
        raise CodeExpiredError("This code was already used.")
    return row


def _salt(session: Session) -> str:
    salt = meta.value(session, meta.INVITE_SALT)
    if salt is None:
        raise RuntimeError("the database has no invite salt: run `slabtide migrate`")
    return salt


def _meant(session: Session, company_id: str, name: str | None, person_id: str | None) -> Person | None:
    if person_id is not None:
        person = session.get(Person, (company_id, person_id))
        if person is None:
            raise PersonUnclearError(
                "There is no such person in the company.", "Choose someone from the list."
            )
        return person
    found = people_named(session, company_id, name) if name else []
    if len(found) > 1:
        raise PersonUnclearError(
            f"{len(found)} people are called {name}.", "Choose the person from the list."
        )
    return found[0] if found else None
