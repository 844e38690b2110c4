"""Who a reminder goes to first, of people and what they logged: the rule alone.

Pure: no database, no clock. The server asks it of those whose phones listen, a phone of all people of its
company; both read tests/vectors/first_told.json. `slabtide.reminders.crew` says the rule in words.
"""

from collections.abc import Callable, Iterable, Sequence
from collections.abc import Set as AbstractSet
from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

NIGHT_WORK = timedelta(hours=18)  # from the morning's first truck to a saw after midnight (EST)
ON_THE_SLAB = ("crew", "foreman")
ON_THE_DAY, TO_THE_LEAD = ("check", "texture", "saw"), ("heads_up", "open")
Person = tuple[str, str]  # who, in which role


def first_told(
    what: str,
    stage: str,
    audience: Iterable[str],
    lead: str | None,
    people: Sequence[Person],
    logged: Callable[[], AbstractSet[str]],
) -> set[str]:
    """Who of `people` is told first.

    audience -- the roles it is for
    lead -- who leads the crew of the job, where one is named
    logged -- who wrote to the job in its working day; asked only where the rule rests on it
    """
    roles = set(audience)
    named = {person for person, role in people if role in roles and role != "crew"}
    leads = {person for person, _ in people if person == lead}
    if stage == "missed":
        return named
    if "crew" in roles:
        return named | _crew(lead, people, {lead} | logged())
    if what in ON_THE_DAY and stage in TO_THE_LEAD and leads:
        return leads
    return named | leads


def _crew(lead: str | None, people: Sequence[Person], on_it: AbstractSet[str | None]) -> set[str]:
    known = any(person == lead or role in ON_THE_SLAB for person, role in people if person in on_it)
    if not known and lead is None:
        return {person for person, role in people if role == "crew"}
    return {person for person, role in people if person == lead or (person in on_it and role in ON_THE_SLAB)}


def working_day(now: datetime, zone: str) -> datetime:
    """When the working day of a job began: at midnight by its clock, or 18 hours ago where that is sooner."""
    midnight = now.astimezone(ZoneInfo(zone)).replace(hour=0, minute=0, second=0, microsecond=0)
    return min(midnight.astimezone(UTC), now - NIGHT_WORK)
