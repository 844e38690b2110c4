"""Loads the demo company once, and remembers that it did."""

import importlib.util
import json
import os
import sys
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from zoneinfo import ZoneInfo

from scripts.demo.closed import past_jobs
from scripts.demo.jobs import deck_next_days, patio_today, plan_weather, walk_ready
from scripts.demo.moments import Crew, Moments
from scripts.demo.phone import Phone, instant
from scripts.demo.serving import code_of, invite, slabtide
from scripts.demo.slabs import PLACE

COMPANY = "Bramblecourt Flatwork"
PEOPLE = {
    "foreman": ("foreman", "Dana Pruett", "en"),
    "finisher": ("crew", "Luis Cantero", "es"),
    "second": ("crew", "Teo Marsh", "en"),
    "desk": ("office", "June Abara", "en"),
}
STATION_FILE = "723170TYA.CSV"
# Always a typical July, whatever the calendar says: its windows fall within the hours around the pour.
LIKE = "07-14"


@dataclass(frozen=True)
class Note:
    """What stands in the home folder about the demo: kept from the first step, `done` after the last."""

    company: str
    loaded_at: str
    done: bool

    @staticmethod
    def path(home: Path) -> Path:
        return home / "demo.json"

    @classmethod
    def read(cls, home: Path) -> "Note | None":
        path = cls.path(home)
        return cls(**json.loads(path.read_text())) if path.exists() else None

    def write(self, home: Path) -> None:
        aside = self.path(home).with_suffix(".new")
        aside.write_text(json.dumps(self.__dict__) + "\n")
        os.replace(aside, self.path(home))


def loaded_company(home: Path) -> str | None:
    """The demo company's id, when there is one."""
    note = Note.read(home)
    return note.company if note else None


def loaded_at(home: Path) -> str | None:
    """The moment that the demo's times are set around, as people write it."""
    note = Note.read(home)
    return datetime.fromisoformat(note.loaded_at).astimezone().strftime("%d %B, %H:%M") if note else None


def typical_year() -> Path | None:
    """The typical-year weather file that the package pvlib brings; None where it is not installed."""
    found = importlib.util.find_spec("pvlib")
    folders = found.submodule_search_locations if found else None
    path = Path(folders[0]) / "data" / STATION_FILE if folders else None
    return path if path and path.exists() else None


def begin(home: Path) -> Note:
    """The note of a load that began before and was interrupted, or a new one with a new company."""
    note = Note.read(home)
    if note is None:
        made = slabtide("company", "create", COMPANY)
        note = Note(made.split()[-1], instant(datetime.now(UTC).replace(second=0, microsecond=0)), False)
        note.write(home)
    return note


def enrol(url: str, company: str) -> Crew:
    """The foreman joins by a code from the command line and asks the others in.

    Names lead to the people already there, so a load that was interrupted makes nobody twice.
    """
    role, name, language = PEOPLE["foreman"]
    foreman = Phone(url, code_of(invite(role, company, name)), name, language)
    others = {
        place: Phone(url, foreman.ask_in(role, name), name, language)
        for place, (role, name, language) in PEOPLE.items()
        if place != "foreman"
    }
    return Crew(foreman=foreman, **others)


def load(url: str, home: Path) -> bool:
    """Enrols four people, posts three open jobs and those of the months before as their phones would; False
    when that was done before."""
    note = begin(home)
    if note.done:
        return False
    moments = Moments(datetime.fromisoformat(note.loaded_at), note.company)
    crew = enrol(url, note.company)
    poured = [patio_today(crew, moments), deck_next_days(crew, moments)]
    walk_ready(crew, moments)
    closed = past_jobs(crew, moments)
    weather = typical_year()
    if weather is None:
        print("demo: no typical-year weather (package pvlib); days entered by hand instead", file=sys.stderr)
        for job in poured:
            plan_weather(crew, moments, job)
    events = sum(phone.send() for phone in crew.all())
    if weather is not None:
        for job in poured:
            load_weather(weather, job, moments)
    Note(note.company, note.loaded_at, True).write(home)
    print(f"demo: {COMPANY} is loaded: 3 jobs and {closed} closed, {len(PEOPLE)} people, {events} events")
    return True


def load_weather(path: Path, job: str, moments: Moments) -> None:
    """Lays the typical year onto the days around the pour."""
    yesterday = moments.ago(hours=24).astimezone(ZoneInfo(PLACE["time_zone"])).date()
    slabtide("weather", "load", str(path), "--job", job, "--shift-to", yesterday.isoformat(), "--like", LIKE)
