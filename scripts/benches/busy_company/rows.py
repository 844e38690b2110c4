"""Fills a company: jobs at every stage, their log, reminders and steps, as the server itself would keep."""

from collections.abc import Iterator
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

from flask import Flask
from scripts.benches.busy_company.pouring import pour_in
from sqlalchemy import update
from sqlalchemy.orm import Session

from slabtide.log.instants import write_instant
from slabtide.office import board_rows
from slabtide.reminders.contract import reminder_id
from slabtide.store.session import write
from slabtide.store.tables import CompanyCounter, Event, JobMark, JobOutlook, Reminder, ReminderStep

HOUR = timedelta(hours=1)
SLAB = {
    "corners": [[0, 0], [8, 0], [8, 6.5], [0, 6.5]],
    "thickness_m": 0.115,
    "insulation_r_m2k_w": 0.1,
    "ground_temp_c": 16,
    "solar_absorptivity": 0.65,
    "abutting": [],
}
FIRST_LINES: tuple[tuple[str, dict[str, Any]], ...] = (
    ("slab.outlined", SLAB),
    ("order.placed", {"volume_m3": 6.4, "loads": 2}),
    ("crew.assigned", {"people": 4, "mats": 8, "mat_area_m2": 0.6, "lay_minutes": 2.0}),
)
WORKS = (("saw", 8, 26), ("wash", 48, 340), ("colour", 60, 340), ("seal", 120, 700))
STAGES = (("heads_up", -12), ("open", 0), ("last_call", 6))


@dataclass(frozen=True, slots=True)
class Busy:
    """`jobs` of one company, with `events` entries between them, poured over four weeks around `now`."""

    company_id: str
    device: str
    person: str
    jobs: int
    events: int
    now: datetime

    def job(self, number: int) -> str:
        """The id of a job by its number."""
        return self.made_id(1, number, 0)

    def made_id(self, kind: int, number: int, line: int) -> str:
        """An id that is nobody else's: quicker made than by chance or by a digest."""
        return f"{number:08x}-{kind:04x}-7{line >> 12:03x}-8{line & 0xFFF:03x}-{self.company_id[-12:]}"

    def poured_at(self, number: int) -> datetime:
        """Spread evenly from three weeks ago to a week ahead."""
        return self.now - 21 * 24 * HOUR + timedelta(seconds=28 * 86_400 * number // self.jobs)


def fill(app: Flask, busy: Busy) -> None:
    """Write it all, by the quickest way the database has."""
    with app.app_context():
        for table, rows in (
            (Event, _events(busy)),
            (JobMark, _marks(busy)),
            (JobOutlook, _outlooks(busy)),
            (Reminder, _reminders(busy)),
            (ReminderStep, _steps(busy)),
        ):
            pour_in(table, rows)
        for start in range(0, busy.jobs, board_rows.FILLED_AT_ONCE):
            some = range(start, min(busy.jobs, start + board_rows.FILLED_AT_ONCE))
            with write() as session:
                board_rows.refresh(session, busy.company_id, map(busy.job, some), busy.now)
        with write() as session:
            _count(session, busy)


def _count(session: Session, busy: Busy) -> None:
    session.execute(
        update(CompanyCounter)
        .where(CompanyCounter.company_id == busy.company_id)
        .values(seq=busy.jobs * (busy.events // busy.jobs))
    )


def _events(busy: Busy) -> Iterator[dict[str, Any]]:
    seq, each = 0, busy.events // busy.jobs
    for number in range(busy.jobs):
        begins = busy.poured_at(number) - 48 * HOUR
        for line, (kind, body) in enumerate(_lines(busy, number, each)):
            seq += 1
            at = write_instant(min(begins + line * timedelta(minutes=10), busy.now - HOUR))
            yield {
                "company_id": busy.company_id,
                "seq": seq,
                "id": busy.made_id(2, number, line),
                "job": busy.job(number),
                "kind": kind,
                "body": body,
                "at": at,
                "clock": f"{1_700_000_000_000 + seq:015d}-0000-{busy.device}",
                "device": busy.device,
                "author": busy.person,
                "raw_at": None,
                "received_at": at,
            }


def _lines(busy: Busy, number: int, each: int) -> Iterator[tuple[str, dict[str, Any]]]:
    name = {"name": _name(number), "place": f"{number} Lantern Row", "time_zone": "America/New_York"}
    yield "job.opened", name | {"latitude_deg": 36.1, "longitude_deg": -79.95, "use": "patio"}
    for kind, body in FIRST_LINES[: max(0, each - 1)]:
        more = {"pour_at": write_instant(busy.poured_at(number))} if kind == "order.placed" else {}
        yield kind, body | more
    for line in range(each - 1 - len(FIRST_LINES)):
        yield (
            "note.written",
            {"text": f"Line {line}: fogged the far end, wind from the gate, mats printed clean"},
        )


def _name(number: int) -> str:
    kinds = ("patio", "pool deck", "walk", "drive")
    streets = ("Harbor", "Mill", "Ridge", "Orchard", "Quarry", "Lantern", "Kettle Bend")
    return f"{streets[number % len(streets)]} {kinds[number % len(kinds)]} {number}"


def _marks(busy: Busy) -> Iterator[dict[str, Any]]:
    for number in range(busy.jobs):
        poured = busy.poured_at(number) < busy.now
        ahead = [f"{what}/" for what, _, _ in WORKS] if poured else []
        state = {
            "name": _name(number),
            "place": f"{number} Lantern Row",
            "use": "patio",
            "time_zone": "America/New_York",
            "latitude_deg": 36.1,
            "longitude_deg": -79.95,
            "phase": "next_days" if poured else "ready",
            "pour_at": write_instant(busy.poured_at(number)),
            "volume_ordered_m3": 6.4,
            "volume_placed_m3": 6.4 if poured else 0.0,
            "loads_placed": 2 if poured else 0,
            "loads_ordered": 2,
            "open_pins": number % 3,
            "checklists": {
                name: {"done": 3, "total": 8} for name in ("forms", "isolation", "slope", "debris")
            },
            "named": {"crew": f"Crew {number % 40}", "saw": f"Saw {number % 40}", "sprayer": None},
            "closed": False,
            "devices": [busy.device],
            "ahead": ahead,
        }
        row = {"company_id": busy.company_id, "job": busy.job(number), "dirty": False, "dirty_since": None}
        yield row | {"version": 1, "recompute_after": None, "state": state}


def _outlooks(busy: Busy) -> Iterator[dict[str, Any]]:
    weather = {
        "source": "hand",
        "label": "Entered by hand",
        "covers_from": None,
        "covers_to": None,
        "noted": 0,
    }
    for number in range(busy.jobs):
        yield {
            "company_id": busy.company_id,
            "job": busy.job(number),
            "computed_at": busy.now,
            "weather": weather,
            "problem": None,
            "timeline": None,
            "planned": False,
            "assumptions": None,
            "input_hash": "",
        }


def _reminders(busy: Busy) -> Iterator[dict[str, Any]]:
    for number in range(busy.jobs):
        poured = busy.poured_at(number)
        if poured >= busy.now:
            continue
        for what, opens_h, closes_h in WORKS:
            opens, closes = poured + opens_h * HOUR, poured + closes_h * HOUR
            opens_when, closes_when = _when(opens), _when(closes)
            for stage, offset_h in STAGES:
                due = opens + offset_h * HOUR
                told = due <= busy.now
                yield {
                    "company_id": busy.company_id,
                    "id": reminder_id(busy.company_id, busy.job(number), what, "", stage),
                    "job": busy.job(number),
                    "what": what,
                    "subject": "",
                    "stage": stage,
                    "due": due,
                    "opens": opens_when,
                    "closes": closes_when,
                    "expires": closes + 48 * HOUR,
                    "state": "acknowledged" if told and number % 2 else "sent" if told else "planned",
                    "audience": ["foreman"],
                    "escalation": 1,
                    "revision": 0,
                    "sent_due": due if told else None,
                    "noted_due": due,
                    "title": {"en": f"{what} {_name(number)}", "es": f"{what} {_name(number)}"},
                    "words": {"en": "Open from 8 am to 4 pm.", "es": "De 8 a 16 h."},
                    "ack": _ack(busy, due) if told and number % 2 else None,
                    "created_at": poured,
                    "updated_at": due if told else poured,
                }


def _steps(busy: Busy) -> Iterator[dict[str, Any]]:
    for number, row in enumerate(_reminders(busy)):
        names = ("planned", "due", "sent") if row["state"] != "planned" else ("planned",)
        for line, name in enumerate(names):
            yield {
                "company_id": busy.company_id,
                "reminder_id": row["id"],
                "id": busy.made_id(3, number, line),
                "at": row["created_at"] if name == "planned" else row["due"],
                "step": name,
            }


def _ack(busy: Busy, at: datetime) -> dict[str, str]:
    return {"by": busy.person, "at": write_instant(at), "via": "app"}


def _when(at: datetime) -> dict[str, str]:
    return {
        "early": write_instant(at - HOUR),
        "likely": write_instant(at),
        "late": write_instant(at + HOUR),
    }


def at_this_hour() -> datetime:
    """The whole hour that has begun, UTC."""
    return datetime.now(UTC).replace(minute=0, second=0, microsecond=0)
