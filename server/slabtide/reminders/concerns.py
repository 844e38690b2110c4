"""Which jobs stand in a person's calendar, and which of their alarms: what concerns that person, no more.

  office, foremen   every job
  crew              jobs they lead, wrote to, have a pin of or took a reminder of in hand; jobs of a crew they
                    worked with on one of those; and jobs of which nobody of the crew is known yet
Alarms follow who is told first (crew.py): heads-ups the lead and the foremen, the saw's last call whoever
works there, other last calls the lead and the foremen. The office has no alarms: what nobody answers reaches
it by push. Of a pour the foremen and everybody on the slab are called.
"""

from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from typing import Any

from slabtide.log.model import JobView

Notebooks = Mapping[str, Mapping[str, Any]]


@dataclass(frozen=True, slots=True)
class Reader:
    """Whose calendar it is. `devices`: all that this person ever held."""

    person: str
    role: str
    devices: frozenset[str]


def owners_of(view: JobView) -> list[str]:
    """Who has an open pin of a job to deal with."""
    return sorted({pin.owner.person for pin in view.pins if pin.open and pin.owner})


def jobs_of(
    reader: Reader, notebooks: Notebooks, took: Mapping[str, Iterable[str]], crew_devices: frozenset[str]
) -> set[str]:
    """The jobs that concern a person.

    notebooks -- of every job; took -- by job, who took a reminder of it in hand; crew_devices -- those that
    anybody of the crew holds
    """
    if reader.role != "crew":
        return set(notebooks)
    own = {job for job, known in notebooks.items() if _is_own(reader, known, took.get(job, ()))}
    crews = {name for job in own if (name := _crew(notebooks[job]))}
    with_my_crew = {job for job, known in notebooks.items() if _crew(known) in crews}
    nobodys = {job for job, known in notebooks.items() if _is_nobodys(known, crew_devices)}
    return own | with_my_crew | nobodys


def is_called(reader: Reader, known: Mapping[str, Any], what: str, stage: str) -> bool:
    """Whether a person's calendar calls them at a stage of a work of a job (`known`: its notebook)."""
    if reader.role == "crew":
        return known.get("lead") == reader.person or what == "pour" or (what, stage) == ("saw", "last_call")
    return reader.role == "foreman"


def _is_own(reader: Reader, known: Mapping[str, Any], took: Iterable[str]) -> bool:
    return (
        known.get("lead") == reader.person
        or reader.person in known.get("owners", ())
        or reader.person in took
        or not reader.devices.isdisjoint(known.get("devices", ()))
    )


def _is_nobodys(known: Mapping[str, Any], crew_devices: frozenset[str]) -> bool:
    unnamed = known.get("lead") is None and not _crew(known)
    return unnamed and crew_devices.isdisjoint(known.get("devices", ()))


def _crew(known: Mapping[str, Any]) -> str | None:
    """The name of a job's crew, small and large letters alike."""
    name = (known.get("named") or {}).get("crew")
    return name.strip().casefold() if name else None
