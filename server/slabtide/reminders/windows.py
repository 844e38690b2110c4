"""Which pieces of work lie ahead of a job, and when each may start and must be done.

Sawing takes the engine's windows, on the safe side over all loads: it opens with the first load that opens
and closes with the first that closes, by the engine's models or by the practice told beside them, whichever
is sooner. A load that the models give no window, or no end, is sawn by practice there. Where there is no
timeline (no weather yet), practice speaks instead of silence: 4 to 12 h after placing (ACI 302.1R-15,
conventional saws), to 9 h for an early-entry saw, counted from the first load.
Washing, colouring and sealing take the later of the engine's window and the least ages below. All of these
are common practice, no source, unless said; the product's label overrides them.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from typing import Any

from slabtide.reminders.contract import NightDrop, What, When, WorkWindow
from slabtide.reminders.hand_work import HandLoad
from slabtide.reminders.kept import KeptTime

SAW_OPENS_AFTER, SAW_CLOSES_AFTER = timedelta(hours=4), timedelta(hours=12)  # ACI 302.1R-15
EARLY_ENTRY_CLOSES_AFTER = timedelta(hours=9)  # half of CSA A23.1's 18 h (EST), as engine.saw_practice
WASH_AFTER_POUR = timedelta(hours=24)  # one day in heat; common practice, no source
WASH_BEFORE = timedelta(hours=72)  # release left longer sets on the surface; common practice, no source
DRY_AFTER_WASH = timedelta(hours=24)  # surface dry before colour or sealer; common practice, no source
SEAL_AFTER_POUR = timedelta(days=28)  # film-forming sealers, usual trade guidance; from memory, not verified
SEAL_AFTER_COLOUR = timedelta(hours=24)  # common practice, no source
SECOND_COAT_AFTER = timedelta(hours=4)  # common practice, no source
COATS = 2  # where nobody says how many
_LEAST_WASH_WINDOW = timedelta(hours=24)
_LEAST_SAW_WINDOW = timedelta(hours=2)  # where practice is over before a saw can cut: cut at once (EST)


@dataclass(frozen=True, slots=True)
class Facts:
    """What a job's log says that reminders rest on. Times UTC, saw length [m], rate [m/min]. `seal_age`: the
    least age that the sealer's label asks for, None where it says none."""

    job: str
    name: str
    time_zone: str
    closed: bool
    placed_to: tuple[datetime, ...]
    cuts_done: bool
    saw_length_m: float
    saw_rate_m_per_min: float
    washed_at: datetime | None
    coloured_at: datetime | None
    coats_at: tuple[datetime, ...]
    coats_wanted: int = COATS
    recoat_after: timedelta = SECOND_COAT_AFTER
    seal_age: timedelta | None = None
    kept_times: tuple[KeptTime, ...] = ()
    hand_loads: tuple[HandLoad, ...] = ()
    early_entry_saw: bool = False


def windows_ahead(facts: Facts, timeline: Mapping[str, Any] | None) -> Iterator[WorkWindow]:
    """Work not yet done, in trade order. Nothing before a load is placed or after the job closes."""
    if facts.closed or not facts.placed_to:
        return
    loads: Sequence[Mapping[str, Any]] = timeline["loads"] if timeline else ()
    saw = saw_window(loads) if timeline else practice_saw_window(facts.placed_to, facts.early_entry_saw)
    if saw is not None and not facts.cuts_done:
        yield replace(saw, opens=replace(saw.opens, drop=night_drop(timeline)))
    if facts.coats_at:
        if len(facts.coats_at) < facts.coats_wanted:
            coat = f"coat-{len(facts.coats_at) + 1}"
            yield _from("seal", coat, _sure(facts.coats_at[-1] + facts.recoat_after))
    elif facts.coloured_at:
        yield _seal(facts, loads, facts.coloured_at + SEAL_AFTER_COLOUR)
    elif facts.washed_at:
        yield _from("colour", "", _latest(loads, "colour", _sure(facts.washed_at + DRY_AFTER_WASH)))
        yield _seal(facts, loads, facts.washed_at + DRY_AFTER_WASH)
    else:
        yield _wash(facts, loads)


def saw_window(loads: Sequence[Mapping[str, Any]]) -> WorkWindow | None:
    """The saw window of the whole slab, or None when neither the engine nor practice gives one."""
    found = [window for load in loads if (window := _load_saw_window(load))]
    if not found:
        return None
    closing = [closes for _, closes in found if closes]
    opens = _each(min, [opens for opens, _ in found])
    return WorkWindow("saw", "", opens, _each(min, closing) if closing else None)


def _load_saw_window(load: Mapping[str, Any]) -> tuple[When, When | None] | None:
    """When one load's saw opens and closes: the engine's, closed by practice where that is sooner or alone
    names an end."""
    told, practice = (load.get("windows") or {}).get("saw"), load.get("saw_practice")
    late = _sure(datetime.fromisoformat(practice["closes"])) if practice else None
    if not told:
        return (_sure(datetime.fromisoformat(practice["opens"])), late) if practice else None
    opens = When.from_json(told["opens"])
    closes = When.from_json(told["closes"]) if told.get("closes") else None
    if late is None:
        return opens, closes
    at_once = When(
        opens.early + _LEAST_SAW_WINDOW, opens.likely + _LEAST_SAW_WINDOW, opens.late + _LEAST_SAW_WINDOW
    )
    left = _each(max, [late, at_once])
    return opens, _each(min, [closes, left]) if closes else left


def night_drop(timeline: Mapping[str, Any] | None) -> NightDrop | None:
    """The first load's surface to fall in the first night, as the engine's notices tell of it; None where
    none does. Whole minutes and degrees, so that no reminder moves for less."""
    told = [one for one in (timeline or {}).get("warnings") or () if one["code"] == "first_night_drop"]
    if not told:
        return None
    first = min(told, key=lambda one: datetime.fromisoformat(one["from"]))
    at = datetime.fromisoformat(first["from"]).astimezone(UTC).replace(second=0, microsecond=0)
    params = first["params"]
    return NightDrop(at, round(params["coldest_c"]), params["drop_k"], params["case"] == "too_late")


def practice_saw_window(placed_to: Sequence[datetime], early_entry: bool) -> WorkWindow:
    """The saw window by practice alone, for a slab whose times can't be computed."""
    first = min(placed_to)
    closes_after = EARLY_ENTRY_CLOSES_AFTER if early_entry else SAW_CLOSES_AFTER
    return WorkWindow("saw", "", _sure(first + SAW_OPENS_AFTER), _sure(first + closes_after))


def _wash(facts: Facts, loads: Sequence[Mapping[str, Any]]) -> WorkWindow:
    placed = max(facts.placed_to)
    opens = _latest(loads, "wash", _sure(placed + WASH_AFTER_POUR))
    closes = max(placed + WASH_BEFORE, opens.late + _LEAST_WASH_WINDOW)
    return WorkWindow("wash", "", opens, _sure(closes))


def _seal(facts: Facts, loads: Sequence[Mapping[str, Any]], dry_at: datetime) -> WorkWindow:
    if facts.seal_age is not None:
        return _from("seal", "coat-1", _sure(max(dry_at, max(facts.placed_to) + facts.seal_age)))
    known = any((load.get("windows") or {}).get("seal") for load in loads)
    least = dry_at if known else max(dry_at, max(facts.placed_to) + SEAL_AFTER_POUR)
    return _from("seal", "coat-1", _latest(loads, "seal", _sure(least)))


def _from(what: What, subject: str, opens: When) -> WorkWindow:
    return WorkWindow(what, subject, opens, None)


def _latest(loads: Sequence[Mapping[str, Any]], what: What, least: When) -> When:
    """The later of the least age and the last load's own opening: such work takes the whole slab."""
    opened = [
        When.from_json(window["opens"]) for load in loads if (window := (load.get("windows") or {}).get(what))
    ]
    return _each(max, [least, *opened])


def _each(pick: Any, times: Sequence[When]) -> When:
    return When(
        pick(when.early for when in times),
        pick(when.likely for when in times),
        pick(when.late for when in times),
    )


def _sure(moment: datetime) -> When:
    at = moment.astimezone(UTC)
    return When(at, at, at)
