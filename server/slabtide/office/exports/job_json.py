"""One job whole: every entry as it is kept, the state they add up to, and who the ids are."""

import json
from collections.abc import Iterator
from typing import Any

from sqlalchemy.orm import Session

from slabtide.log.envelope import FIELDS
from slabtide.log.fold import fold
from slabtide.log.view import view_job, view_json
from slabtide.office.record.gather import events_of, names_of
from slabtide.store.tables import Event

VERSION = 1


def event_json(row: Event) -> dict[str, Any]:
    """An entry as the wire carries it, with the server's number and time of arrival."""
    return {name: getattr(row, name) for name in FIELDS} | {"seq": row.seq, "received_at": row.received_at}


def job_json(session: Session, company_id: str, job: str) -> dict[str, Any]:
    """The whole job. Raises `JobUnknownError`."""
    events = events_of(session, company_id, job)
    view = view_job(fold(events, job))
    people = names_of(session, company_id)
    authors = {event.author for event in events}
    return {
        "version": VERSION,
        "job": job,
        "people": {person: people[person] for person in sorted(authors & people.keys())},
        "events": [event_json(event) for event in events],
        "view": view_json(view),
    }


def written(found: dict[str, Any]) -> Iterator[str]:
    """The JSON text, piece by piece."""
    yield from json.JSONEncoder(ensure_ascii=False, indent=1).iterencode(found)
    yield "\n"
