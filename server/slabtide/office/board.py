"""The board: every open job, where it is, what is next, who has it in hand, who was heard from.

Rows are kept by `board_rows`; here they are picked, put in order and told a page at a time.
"""

import json
from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from functools import cache
from types import SimpleNamespace
from typing import Any

from sqlalchemy import Text, cast, select
from sqlalchemy.orm import Session

from slabtide.log.instants import read_instant, write_instant
from slabtide.office.board_pick import EVERY_JOB, Choice, Seen, pick, standing
from slabtide.office.board_rows import Values, plain_text, worked_out
from slabtide.office.conflicts.stored import conflicts_json
from slabtide.store.tables import BoardRow, Device, Person

_NARROW = (
    BoardRow.job,
    BoardRow.stale_at,
    BoardRow.name,
    BoardRow.search,
    BoardRow.phase,
    BoardRow.pour_at,
    BoardRow.due,
    BoardRow.closes,
    BoardRow.next_stage,
    BoardRow.next_state,
    BoardRow.trouble,
    # As the text it is stored as: thousands of rows name the same few devices.
    cast(BoardRow.devices, Text).label("devices"),
)

_KEPT_HERE = ("windows", "named", "texture_min")
"""What rows hold for conflicts alone."""


def board_json(
    session: Session, company_id: str, now: datetime, choice: Choice = EVERY_JOB
) -> dict[str, Any]:
    """The board as `choice` asks for it: the jobs of a page, how many fit, and how all of them stand."""
    devices = {device.id: device for device in session.scalars(_of(Device, company_id))}
    people = {person.id: person.name for person in session.scalars(_of(Person, company_id))}
    fresh, rows = _rows(session, company_id, now)

    @cache
    def heard(names: str | None) -> _Heard:
        named = json.loads(names or "null") or ()
        return _heard_from([devices[name] for name in named if name in devices], people)

    seen = [_seen(row, heard(row.devices), now) for row in rows]
    counts = {"late": 0, "watch": 0, "steady": 0}
    for one in seen:
        counts[one.standing] += 1
    fitting = pick(seen, choice)
    page = fitting[choice.skip : choice.skip + choice.limit]
    shown = _shown(session, company_id, [one.job for one in page], fresh)
    jobs = [_job(shown[one.job], one, devices, people, now) for one in page if one.job in shown]
    return {
        "jobs": jobs,
        "total": len(fitting),
        "counts": counts,
        "conflicts": conflicts_json(session, company_id, now),
    }


def board_jobs(session: Session, company_id: str, now: datetime) -> list[dict[str, Any]]:
    """Every job not closed, the one with the nearest deadline first."""
    jobs: list[dict[str, Any]] = board_json(session, company_id, now)["jobs"]
    return jobs


def _rows(session: Session, company_id: str, now: datetime) -> tuple[dict[str, Values], list[Any]]:
    """Every open row; those that time has overtaken since the last tick are worked out here and now."""
    query = select(*_NARROW).where(BoardRow.company_id == company_id, BoardRow.open)
    rows: list[Any] = list(session.execute(query))
    stale = [row.job for row in rows if row.stale_at is not None and row.stale_at <= now]
    fresh = worked_out(session, company_id, stale, now) if stale else {}
    again = [_plain(values) for values in fresh.values() if values["open"]]
    return fresh, [row for row in rows if row.job not in fresh] + again


def _plain(values: Values) -> SimpleNamespace:
    """A row just worked out, read like a stored one."""
    return SimpleNamespace(**(values | {"devices": json.dumps(values["devices"])}))


@dataclass(frozen=True, slots=True)
class _Heard:
    """What the devices of a job told: when the last was heard, from whom, what they hold back since when."""

    at: datetime | None
    person: str
    oldest_unsent: datetime | None


def _heard_from(devices: Sequence[Device], people: Mapping[str, str]) -> _Heard:
    last = _last_heard(devices)
    person = plain_text(people.get(last.person_id, "")) if last else ""
    return _Heard(last.last_heard_at if last else None, person, _oldest_unsent(devices))


def _seen(row: Any, heard: _Heard, now: datetime) -> Seen:
    return Seen(
        job=row.job,
        name=row.name,
        text=f"{row.search} {heard.person}",
        phase=row.phase,
        pour_at=row.pour_at,
        due=row.due,
        closes=row.closes,
        in_hand=row.next_state == "acknowledged",
        heard_at=heard.at,
        standing=standing(row, heard.oldest_unsent, now),
    )


def _shown(
    session: Session, company_id: str, jobs: Sequence[str], fresh: Mapping[str, Values]
) -> dict[str, Mapping[str, Any]]:
    stored = [job for job in jobs if job not in fresh]
    found: dict[str, Mapping[str, Any]] = {job: fresh[job] for job in jobs if job in fresh}
    for start in range(0, len(stored), 500):
        query = select(BoardRow.job, BoardRow.shown, BoardRow.devices).where(
            BoardRow.company_id == company_id, BoardRow.job.in_(stored[start : start + 500])
        )
        found |= {row.job: {"shown": row.shown, "devices": row.devices} for row in session.execute(query)}
    return {job: values for job, values in found.items() if values["shown"]}


def _job(
    values: Mapping[str, Any],
    seen: Seen,
    devices: Mapping[str, Device],
    people: Mapping[str, str],
    now: datetime,
) -> dict[str, Any]:
    shown = {name: value for name, value in values["shown"].items() if name not in _KEPT_HERE}
    mine = [devices[name] for name in values["devices"] or () if name in devices]
    shown["weather_risk"] = [one for one in shown["weather_risk"] if read_instant(one["to"]) > now]
    if shown["next"]:
        slack = None if seen.closes is None else int((seen.closes - now).total_seconds() // 60)
        shown["next"] = shown["next"] | {"slack_min": slack}
    if shown["last_ack"]:
        by = shown["last_ack"]["by"]
        shown["last_ack"] = shown["last_ack"] | {"by": people.get(by, by)}
    return {"job": seen.job, "standing": seen.standing} | shown | _heard(mine, people)


def _heard(devices: Sequence[Device], people: Mapping[str, str]) -> dict[str, Any]:
    """When the job's devices were last heard, and what they still hold unsent."""
    last, oldest = _last_heard(devices), _oldest_unsent(devices)
    return {
        "last_heard_at": write_instant(last.last_heard_at) if last and last.last_heard_at else None,
        "last_heard_from": people.get(last.person_id) if last else None,
        "unsent": sum(device.unsent for device in devices),
        "oldest_unsent_at": write_instant(oldest) if oldest else None,
    }


def _last_heard(devices: Sequence[Device]) -> Device | None:
    heard = [(device.last_heard_at, device.person_id, device) for device in devices if device.last_heard_at]
    return max(heard, key=lambda one: one[:2])[2] if heard else None


def _oldest_unsent(devices: Sequence[Device]) -> datetime | None:
    held = [device.oldest_unsent_at for device in devices if device.oldest_unsent_at and device.unsent > 0]
    return min(held, default=None)


def _of(table: Any, company_id: str) -> Any:
    return select(table).where(table.company_id == company_id)
