"""A device joins: it gets a token, and its person is found or made."""

from __future__ import annotations

import uuid
from dataclasses import dataclass
from datetime import UTC, datetime

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.people.tokens import new_token, token_hash
from slabtide.store.session import write
from slabtide.store.tables import Device, Person


@dataclass(frozen=True, slots=True)
class Enrolled:
    """A device that has just joined. The token is nowhere else: the database keeps its hash."""

    token: str
    device_id: str
    person_id: str
    person_name: str
    role: str


def enrol(
    session: Session,
    company_id: str,
    person_name: str,
    role: str,
    *,
    device_name: str,
    language: str,
    now: datetime,
    person_id: str | None = None,
) -> Enrolled:
    """Give a device of `person_id` (of a new person when None) a token, inside the caller's transaction.

    A person known already keeps the name on file and takes the role of the invite.
    """
    person = session.get(Person, (company_id, person_id)) if person_id else None
    if person is None:
        person = Person(company_id=company_id, id=str(uuid.uuid4()), name=person_name, created_at=now)
        session.add(person)
    person.role, person.language = role, language
    session.flush()  # the device refers to the person, and no relationship tells the order
    token = new_token(company_id)
    device = Device(
        company_id=company_id,
        id=str(uuid.uuid4()),
        person_id=person.id,
        name=device_name,
        token_sha256=token_hash(token),
        created_at=now,
    )
    session.add(device)
    return Enrolled(token, device.id, person.id, person.name, role)


def join_person(
    company_id: str, person_name: str, role: str, *, device_name: str, language: str = "en"
) -> Enrolled:
    """Enrol a new person's device without a code: for someone who already has the server's own console."""
    with write() as session:
        return enrol(
            session,
            company_id,
            person_name,
            role,
            device_name=device_name,
            language=language,
            now=datetime.now(UTC),
        )


def people_named(session: Session, company_id: str, name: str) -> list[Person]:
    """The people of the company with this name; spaces and upper or lower case aside."""
    wanted = " ".join(name.split()).casefold()
    people = session.scalars(select(Person).where(Person.company_id == company_id))
    return [person for person in people if " ".join(person.name.split()).casefold() == wanted]


def speak(company_id: str, person_id: str, language: str) -> None:
    """Write to this person in `language` from now on."""
    with write() as session:
        session.get_one(Person, (company_id, person_id)).language = language
