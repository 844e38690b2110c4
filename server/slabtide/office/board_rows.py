"""The board's rows, worked out when a job changes or when time changes what is next of it."""

import unicodedata
from collections.abc import Iterable, Mapping, Sequence
from datetime import datetime
from typing import Any

from sqlalchemy import select, update
from sqlalchemy.orm import Session

from slabtide.log.instants import read_instant
from slabtide.office.board_next import last_ack, next_of, turns_at
from slabtide.store.parts import in_parts
from slabtide.store.tables import BoardRow, JobMark, JobOutlook, Reminder
from slabtide.store.upsert import insert_into

FILLED_AT_ONCE = 500
_SHOWN = (
    "name",
    "place",
    "phase",
    "use",
    "time_zone",
    "pour_at",
    "volume_ordered_m3",
    "volume_placed_m3",
    "loads_placed",
    "loads_ordered",
    "open_pins",
    "checklists",
    "named",
)
_WEATHER = frozenset(
    {
        "rain",
        "cold_air",
        "frozen_ground",
        "freezing",
        "heat_stress",
        "evaporation_high",
        "crusting",
        "first_night_drop",
    }
)
_CAN_CLASH = ("texture", "saw", "wash", "colour", "seal")
"""Of the work with windows. Checks are made by whoever is there."""
Values = dict[str, Any]


def refresh(session: Session, company_id: str, jobs: Iterable[str], now: datetime) -> None:
    """Work the rows of `jobs` out anew and keep them."""
    made = list(worked_out(session, company_id, list(jobs), now).values())
    if not made:
        return
    new = insert_into(session, BoardRow)
    kept = {name: new.excluded[name] for name in made[0] if name not in ("company_id", "job")}
    keys = [BoardRow.company_id, BoardRow.job]
    session.execute(new.on_conflict_do_update(index_elements=keys, set_=kept), made)


def refresh_stale(session: Session, now: datetime) -> int:
    """Work out the rows that time has overtaken, five hundred at most. Returns how many."""
    query = select(BoardRow.company_id, BoardRow.job).where(BoardRow.stale_at <= now).limit(FILLED_AT_ONCE)
    by_company: dict[str, list[str]] = {}
    for company_id, job in session.execute(query):
        by_company.setdefault(company_id, []).append(job)
    for company_id, jobs in by_company.items():
        refresh(session, company_id, jobs, now)
    return sum(map(len, by_company.values()))


def any_stale(session: Session, now: datetime) -> bool:
    """Whether `refresh_stale` would find any."""
    return session.execute(select(BoardRow.job).where(BoardRow.stale_at <= now).limit(1)).first() is not None


def touch(session: Session, company_id: str, job: str, now: datetime) -> None:
    """Note that a job's row wants working out, which the next tick does."""
    session.execute(
        update(BoardRow)
        .where(BoardRow.company_id == company_id, BoardRow.job == job)
        .values(stale_at=now)
        .execution_options(synchronize_session=False)
    )


def worked_out(session: Session, company_id: str, jobs: Sequence[str], now: datetime) -> dict[str, Values]:
    """The rows of `jobs` as they are at `now`, by job. A job without a notebook yet has none."""
    session.flush()
    reminders: dict[str, list[Reminder]] = {}
    found: dict[str, Values] = {}
    for some in in_parts(jobs):
        for row in session.scalars(_of(Reminder, company_id, some)):
            reminders.setdefault(row.job, []).append(row)
        outlooks = {row.job: row for row in session.scalars(_of(JobOutlook, company_id, some))}
        for mark in session.scalars(_of(JobMark, company_id, some)):
            if mark.state:
                rows = reminders.get(mark.job, ())
                found[mark.job] = _values(
                    mark.company_id, mark.job, mark.state, rows, outlooks.get(mark.job), now
                )
            else:
                found[mark.job] = _nothing_yet(company_id, mark.job)
    return found


def plain_text(text: str) -> str:
    """Text for searching: small letters, accents off, so that "jose" finds José.

    >>> plain_text("José's Patio")
    "jose's patio"
    """
    parted = unicodedata.normalize("NFD", text)
    return "".join(letter for letter in parted if not unicodedata.combining(letter)).lower()


def _values(
    company_id: str,
    job: str,
    state: Mapping[str, Any],
    reminders: Sequence[Reminder],
    outlook: JobOutlook | None,
    now: datetime,
) -> Values:
    ahead = state.get("ahead", ())
    coming = next_of(reminders, ahead, now)
    problem = outlook.problem if outlook else None
    shown = {name: state.get(name) for name in _SHOWN}
    shown |= {"next": coming, "last_ack": last_ack(reminders), "problem": problem}
    shown |= {"weather_risk": _risks(outlook), "windows": _windows(reminders, ahead)}
    shown |= {"texture_min": _texture_min(outlook)}
    closes = coming["closes"] if coming else None
    return _nothing_yet(company_id, job) | {
        "open": not state.get("closed"),
        "stale_at": turns_at(reminders, ahead, now),
        "name": (state.get("name") or "")[:80],
        "search": plain_text(f"{state.get('name') or ''} {state.get('place') or ''}"),
        "phase": state.get("phase") or "",
        "pour_at": read_instant(state["pour_at"]) if state.get("pour_at") else None,
        "due": read_instant(coming["due"]) if coming else None,
        "closes": read_instant(closes["early"]) if closes else None,
        "next_stage": coming["stage"] if coming else None,
        "next_state": coming["state"] if coming else None,
        "trouble": problem is not None,
        "devices": list(state.get("devices", ())),
        "shown": shown,
    }


def _nothing_yet(company_id: str, job: str) -> Values:
    blank: Values = dict.fromkeys(
        ("stale_at", "pour_at", "due", "closes", "next_stage", "next_state", "devices", "shown")
    )
    return blank | {
        "company_id": company_id,
        "job": job,
        "open": False,
        "name": "",
        "search": "",
        "phase": "",
        "trouble": False,
    }


def _risks(outlook: JobOutlook | None) -> list[dict[str, str]]:
    """What of the weather threatens the slab, as the job's times were last worked out: each kind once."""
    warnings = (outlook.timeline or {}).get("warnings", ()) if outlook else ()
    found: dict[str, dict[str, str]] = {}
    for one in warnings:
        if one["code"] in _WEATHER:
            known = found.setdefault(one["code"], {"code": one["code"], "from": one["from"], "to": one["to"]})
            known["to"] = max(known["to"], one["to"], key=read_instant)
    return list(found.values())


def _windows(reminders: Sequence[Reminder], ahead: Sequence[str]) -> list[dict[str, Any]]:
    """The windows of the work still ahead, one for each piece of work: what conflicts are found by."""
    found: dict[str, dict[str, Any]] = {}
    for row in reminders:
        group = f"{row.what}/{row.subject}"
        # Texturing that is begun has no opening any more, but holds its crew until it is done.
        stays = row.what == "texture" or row.stage in ("open", "heads_up")
        live = group in ahead and row.state != "cancelled" and stays
        if live and row.what in _CAN_CLASH:
            found[group] = {
                "what": row.what,
                "subject": row.subject,
                "opens": row.opens,
                "closes": row.closes,
            }
    return list(found.values())


def _texture_min(outlook: JobOutlook | None) -> float | None:
    """How long the crew textures a load by its pace [min], the longest of them; None where none is known."""
    pace = ((outlook.timeline or {}).get("pace") or {}) if outlook else {}
    spans = [
        read_instant(load["finished"]["likely"]) - read_instant(load["reached"]["likely"])
        for load in pace.get("loads", ())
    ]
    return round(max(spans).total_seconds() / 60, 1) if spans else None


def _of(table: Any, company_id: str, jobs: Sequence[str]) -> Any:
    return select(table).where(table.company_id == company_id, table.job.in_(jobs))
