"""The two questions of a foreman, answered from a job's view and the hours kept: JSON-ready, no clock."""

import logging
from collections.abc import Callable, Mapping
from datetime import datetime, time, timedelta
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.engine import Pour, Timeline, forecast
from slabtide.engine.advice import advise, hours_of_day
from slabtide.engine.advice_out import write_advice
from slabtide.engine.advice_trial import REACH_H
from slabtide.engine.changes import PourChange
from slabtide.engine.contract import ContractError
from slabtide.engine.cooling import MOST_ICE_SHARE, weighed_water_kg_m3
from slabtide.engine.read_changes import read_changes
from slabtide.engine.solved import Solved
from slabtide.engine.what_if import what_if, write_what_if
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import JobView
from slabtide.office.assumed import as_told
from slabtide.office.decide.ahead import Ahead, pour_ahead
from slabtide.office.learned.known import Prior
from slabtide.office.pour import planned_pour
from slabtide.office.working import Stored
from slabtide.weather.contract import Problem

DAYS = 2  # the day of the pour and the next
_PAST_MIDNIGHT = timedelta(hours=50)
_log = logging.getLogger(__name__)
_POURED = Problem(
    "poured_already",
    "Concrete is on the slab: the hour is chosen.",
    "Go by the times under Pour and Texture.",
)
_NO_HOUR = Problem(
    "no_hour_left", "No hour left that the weather covers.", "Move the pour, or enter weather for its day."
)
_FAILED = Problem(
    "engine_failed",
    "This could not be worked out from what is entered.",
    "Check the slab, the mix and the load times.",
)


def what_if_of(
    view: JobView,
    stored: Stored,
    now: datetime,
    changes: object,
    prior: Prior | None = None,
    solved: Solved | None = None,
) -> dict[str, Any]:
    """The job's pour as it stands beside the pour with `changes` (as `read_changes` takes them).

    prior -- what the company knows of the mix
    solved -- heat that was solved before, and where this is kept

    Returns {"job", "asked_at", "problem", "planned", "assumptions", "assumed", "loads", "crew",
    "most_ice_kg_m3", "answer"}; "answer" is None where a problem stands in the way, and without changes.
    """
    ahead = pour_ahead(view, stored, now, prior=prior)
    if isinstance(ahead, Problem):
        return _what_if_json(view, now, None, ahead, None)
    if changes == []:
        return _what_if_json(view, now, ahead, None, None)
    return _guarded(
        lambda: _what_if(view, ahead, now, changes, solved),
        lambda p: _what_if_json(view, now, ahead, p, None),
    )


def advice_of(view: JobView, stored: Stored, now: datetime, prior: Prior | None = None) -> dict[str, Any]:
    """Every hour of the pour's day and the next, ranked.

    prior -- what the company knows of the mix

    Returns {"job", "asked_at", "problem", "assumptions", "assumed", "planned_at", "answer"}; "answer" is None
    where a problem stands in the way.
    """
    ahead = _ahead_for_advice(view, stored, now, prior)
    if isinstance(ahead, Problem):
        return _advice_json(view, now, None, ahead, None)
    return _guarded(lambda: _advice(view, ahead, now), lambda p: _advice_json(view, now, ahead, p, None))


def _what_if(
    view: JobView, ahead: Ahead, now: datetime, changes: object, solved: Solved | None
) -> dict[str, Any]:
    try:
        read = read_changes(changes, ahead.pour, now)
    except ContractError as error:
        said = error.problems[0]
        problem = Problem("change_wrong", f"{said.message}.", f"It should be {said.allowed}.")
        return _what_if_json(view, now, ahead, problem, None)
    return _what_if_json(view, now, ahead, None, _beside(ahead.pour, now, read, solved))


def _beside(
    pour: Pour, now: datetime, changes: tuple[PourChange, ...], solved: Solved | None
) -> dict[str, object]:
    """Both answers as of the whole minute, so that who tries one change after another waits for one."""
    at = now.replace(second=0, microsecond=0)
    heat = Solved() if solved is None else solved
    return write_what_if(what_if(pour, at, changes, _before.of(pour, at, heat), heat))


class _Before:
    """The pour as it stands, last asked about; threads may each work it out, none reads half of it."""

    def __init__(self) -> None:
        self._held: tuple[Pour, datetime, Timeline] | None = None

    def of(self, pour: Pour, at: datetime, solved: Solved) -> Timeline:
        held = self._held
        if held is None or held[:2] != (pour, at):
            held = self._held = (pour, at, forecast(pour, at, solved))
        return held[2]


_before = _Before()


def _advice(view: JobView, ahead: Ahead, now: datetime) -> dict[str, Any]:
    zone = ZoneInfo(ahead.pour.time_zone)
    first = min(load.placed_from for load in ahead.pour.loads).astimezone(zone).date()
    days = [first + timedelta(days=each) for each in range(DAYS)]
    starts = [hour for day in days for hour in hours_of_day(ahead.pour, day) if hour > now]
    if not starts:
        return _advice_json(view, now, ahead, _NO_HOUR, None)
    return _advice_json(view, now, ahead, None, write_advice(advise(ahead.pour, now, starts)))


def _ahead_for_advice(view: JobView, stored: Stored, now: datetime, prior: Prior | None) -> Ahead | Problem:
    """The pour with weather from the start of its day, as far as both days go."""
    pour = planned_pour(view)
    if isinstance(pour, Problem):
        return pour
    if not pour.planned:
        return _POURED
    zone = ZoneInfo(view.opened.time_zone if view.opened else "UTC")
    day = datetime.combine(pour.begins.astimezone(zone).date(), time(0), zone)
    whole = pour_ahead(view, stored, now, day, day + _PAST_MIDNIGHT + timedelta(hours=REACH_H), prior)
    if isinstance(whole, Ahead):
        return whole
    return pour_ahead(view, stored, now, prior=prior)  # the day's weather may begin after midnight


def _guarded(
    answer: Callable[[], dict[str, Any]], otherwise: Callable[[Problem], dict[str, Any]]
) -> dict[str, Any]:
    try:
        return answer()
    except Exception:  # noqa: BLE001  (the engine failed at this job: said to people, logged for us)
        _log.exception("a decision could not be worked out")
        return otherwise(_FAILED)


def _what_if_json(
    view: JobView,
    now: datetime,
    ahead: Ahead | None,
    problem: Problem | None,
    answer: Mapping[str, Any] | None,
) -> dict[str, Any]:
    pour = ahead.pour if ahead else None
    crew = pour.texturing if pour else None
    return _answered(view, now, ahead, problem, answer) | {
        "planned": ahead.planned if ahead else False,
        "loads": [_load_json(ahead, index) for index in range(len(ahead.loads))] if ahead else [],
        "crew": {"people": crew.people, "mats": crew.mats} if crew else None,
        "thickness_m": pour.slab.thickness_m if pour else None,
        "most_ice_kg_m3": int(MOST_ICE_SHARE * weighed_water_kg_m3(pour.mix)) if pour else None,
    }


def _load_json(ahead: Ahead, index: int) -> dict[str, Any]:
    load = ahead.pour.loads[index]
    return ahead.loads[index] | {
        "batched_at": write_instant(load.batched_at),
        "placed_from": write_instant(load.placed_from),
        "area_m2": round(load.area_m2, 2),
        "concrete_temp_c": round(load.concrete_temp_c, 1),
    }


def _advice_json(
    view: JobView,
    now: datetime,
    ahead: Ahead | None,
    problem: Problem | None,
    answer: Mapping[str, Any] | None,
) -> dict[str, Any]:
    planned_at = write_instant(read_instant(view.order.pour_at)) if view.order else None
    return _answered(view, now, ahead, problem, answer) | {"planned_at": planned_at}


def _answered(
    view: JobView,
    now: datetime,
    ahead: Ahead | None,
    problem: Problem | None,
    answer: Mapping[str, Any] | None,
) -> dict[str, Any]:
    """What every answer says."""
    return {
        "job": view.id,
        "asked_at": write_instant(now),
        "problem": problem.as_json() if problem else None,
        "answer": answer,
    } | as_told(ahead.assumptions if ahead else ())
