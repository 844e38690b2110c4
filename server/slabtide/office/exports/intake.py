"""Jobs from a list into the log: looked at first, then all of them or none, by the way phones send theirs."""

import uuid
from dataclasses import dataclass, replace
from datetime import datetime
from hashlib import sha256

from sqlalchemy import select

from slabtide.errors import AppError
from slabtide.log.clock import Clock
from slabtide.log.instants import to_ms, write_instant
from slabtide.office.exports.bodies import Body, bodies_of
from slabtide.office.exports.reading import Line, Listed, Problem
from slabtide.office.exports.said import said
from slabtide.people import Caller
from slabtide.people.tokens import new_token, token_hash
from slabtide.store.session import read, write
from slabtide.store.tables import Device, Event
from slabtide.store.upsert import insert_into
from slabtide.sync.contract import SyncRequest
from slabtide.sync.offer import offer

DEVICE_NAME = "List of jobs"


@dataclass(frozen=True, slots=True)
class Wanted:
    """A row that becomes a job. Its id follows from name and place: a list sent twice makes it once."""

    row: int
    job: str
    name: str
    bodies: tuple[Body, ...]
    known: bool


def look_at(company_id: str, listed: Listed) -> list[Wanted]:
    """What the list would make. Adds what is wrong to `listed.problems`; changes nothing."""
    made = [(line, _job_of(company_id, line), bodies_of(line, listed.problems)) for line in listed.lines]
    _refuse_twice(made, listed.problems)
    ids = {job for _, job, _ in made} | {str(line.values.get("job", "")) for line in listed.lines}
    with read() as session:
        query = select(Event.job).where(Event.company_id == company_id, Event.job.in_(ids)).distinct()
        here = set(session.scalars(query))
    return [
        Wanted(
            line.row,
            job,
            str(line.values.get("name", "")),
            tuple(bodies),
            job in here or line.values.get("job") in here,
        )
        for line, job, bodies in made
    ]


def bring_in(caller: Caller, wanted: list[Wanted], now: datetime) -> list[str]:
    """Store the new ones of `wanted` as the caller's own entries; gives the ids of the jobs made.

    One call of the sync room, so numbers, marks and repetition hold as for a phone. Raises `AppError`.
    """
    fresh = [one for one in wanted if not one.known]
    if not fresh:
        return []
    device = _device(caller, now)
    clock, at = Clock(device), write_instant(now)
    events = [
        {
            "id": _event_id(caller.company_id, one.job, body.kind),
            "job": one.job,
            "kind": body.kind,
            "body": body.body,
            "at": at,
            "clock": clock.tick(to_ms(now)),
            "device": device,
            "author": caller.person_id,
            "raw_at": None,
        }
        for one in fresh
        for body in one.bodies
    ]
    sender = replace(caller, device_id=device, last_heard_at=None, unsent=0, oldest_unsent_at=None)
    outcome = offer(sender, SyncRequest(0, list(events), now, 0, None, False), now)
    # Someone else brought the same list in since we looked: theirs stands.
    others = [one for one in outcome.rejected if one["why"]["code"] != "id_taken"]
    if others:
        why = others[0]["why"]
        raise AppError(f"{len(others)} entries were refused: {why['message']}", why["do"], code=why["code"])
    taken = {one["id"] for one in outcome.rejected}
    return [one.job for one in fresh if _event_id(caller.company_id, one.job, "job.opened") not in taken]


def _job_of(company_id: str, line: Line) -> str:
    parts = [" ".join(str(line.values.get(name, "")).split()).casefold() for name in ("name", "place")]
    return str(uuid.uuid5(uuid.UUID(company_id), "list of jobs\n" + "\n".join(parts)))


def _refuse_twice(made: list[tuple[Line, str, list[Body]]], problems: list[Problem]) -> None:
    first: dict[str, int] = {}
    for line, job, _ in made:
        row = first.setdefault(job, line.row)
        if row != line.row:
            problems.append(Problem(line.row, "name", said("job_twice", first=row)))


def _event_id(company_id: str, job: str, kind: str) -> str:
    """An id that the same list gives again: shaped as a UUIDv7, its time bits from the digest too."""
    number = int.from_bytes(sha256(f"{company_id}\n{job}\n{kind}".encode()).digest()[:16])
    number = number & ~(0xF << 76) | 0x7 << 76
    return str(uuid.UUID(int=number & ~(0x3 << 62) | 0x2 << 62))


def _device(caller: Caller, now: datetime) -> str:
    """The caller's device for lists, made once. Its token is thrown away: nobody can call with it."""
    device = str(uuid.uuid5(uuid.UUID(caller.company_id), f"list of jobs/{caller.person_id}"))
    with write() as session:
        row = insert_into(session, Device).values(
            company_id=caller.company_id,
            id=device,
            person_id=caller.person_id,
            name=DEVICE_NAME,
            token_sha256=token_hash(new_token(caller.company_id)),
            created_at=now,
            unsent=0,
        )
        session.execute(row.on_conflict_do_nothing())
    return device
