"""From a job's view and the weather at hand to its times: the same on the server and on a phone.

No database, no clock, nothing but the standard library.
"""

import hashlib
import json
import logging
from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime, timedelta
from typing import Any

from slabtide.engine import forecast
from slabtide.engine.contract import ContractError, read_pour, write_timeline
from slabtide.engine.crew_heat import crew_hours
from slabtide.engine.solved import Solved
from slabtide.log.instants import read_instant, write_instant
from slabtide.log.model import JobView
from slabtide.office.assumed import Assumption
from slabtide.office.days.reach import LONGEST, weather_until, work_left
from slabtide.office.learned.known import Prior, began_with, with_prior
from slabtide.office.pour import PlannedPour, planned_pour, pour_json
from slabtide.office.wording import problem_of_contract
from slabtide.weather.assemble import Assembled, weather_for
from slabtide.weather.contract import HourlySeries, Problem

HORIZON = timedelta(hours=120)
BEFORE_BATCHING = timedelta(hours=1)
AHEAD_OF_US = timedelta(minutes=10)  # how far a check's time may lie ahead of the clock it is computed by
LOOK_AGAIN = timedelta(hours=1)
_NO_WEATHER: dict[str, Any] = {
    "source": "none",
    "label": "No weather yet",
    "covers_from": None,
    "covers_to": None,
    "as_of": None,
    "noted": 0,
    "noted_at": None,
    "felt": None,
}
_log = logging.getLogger(__name__)

Stored = Callable[[datetime, datetime], HourlySeries | None]


@dataclass(frozen=True, slots=True)
class Worked:
    """What one look at a job gave. `timeline` is None where it couldn't be computed, or need not be again
    (`unchanged`). `recompute_after`: when to look again though nothing happened. `began`: mean and sd of the
    logarithm of the set factor before any check, None where no times could be asked for."""

    weather: dict[str, Any]
    problem: Problem | None
    timeline: dict[str, Any] | None
    planned: bool
    assumptions: tuple[Assumption, ...]
    input_hash: str
    unchanged: bool
    recompute_after: datetime | None
    began: tuple[float, float] | None = None


def work_out(
    view: JobView,
    stored: Stored,
    now: datetime,
    known_hash: str | None = None,
    prior: Prior | None = None,
    solved: Solved | None = None,
) -> Worked:
    """The times of a job at `now`, or the problem that stands in their way.

    stored -- gives the weather hours kept for the job from one moment to another
    known_hash -- the `input_hash` of a timeline at hand, which is then not computed again
    prior -- what the company knows of the mix; a set factor that was entered goes before it
    solved -- heat that was solved at earlier looks, and where this one's is kept
    """
    pour = planned_pour(view)
    if isinstance(pour, Problem):
        return _without_timeline(dict(_NO_WEATHER), pour, False)
    until = weather_until(view, pour.begins, pour.ends + HORIZON, now)
    hours = stored(pour.begins - 2 * BEFORE_BATCHING, until)
    weather = weather_for(view, hours, pour.begins - BEFORE_BATCHING, until)
    problem = short_of_weather(weather, pour)
    if problem is not None:
        return _without_timeline(_weather_json(weather), problem, pour.planned)
    return _with_timeline(view, pour, weather, now, known_hash, prior, solved)


def short_of_weather(weather: Assembled, pour: PlannedPour) -> Problem | None:
    """What to do where the weather at hand ends before the pour does; None where it reaches."""
    if weather.covers_to is not None and weather.covers_to >= pour.ends:
        return None
    return weather.problem or Problem(
        "weather_missing", "There is no weather for the pour.", "Enter low and high for the day."
    )


def last_times_stay(view: JobView, worked: Worked, had_times: bool) -> bool:
    """Whether the last good times of concrete that lies there stand on, though there are none now: a typing
    slip must not silence the saw. `had_times`: there are such times, and not of a plan."""
    lies_there = bool(view.loads or view.unticketed)
    return worked.timeline is None and not worked.unchanged and lies_there and had_times


def of_then(problem: dict[str, Any], computed_at: str) -> dict[str, Any]:
    """A problem as JSON that says how old the times beside it are."""
    params = problem.get("params", {}) | {"said": problem["message"], "times_of": computed_at}
    message = f"{problem['message']} The times shown were computed at {computed_at}."
    return problem | {"message": message, "params": params}


def _with_timeline(
    view: JobView,
    pour: PlannedPour,
    weather: Assembled,
    now: datetime,
    known_hash: str | None,
    prior: Prior | None,
    solved: Solved | None,
) -> Worked:
    data, assumptions = pour_json(view, pour, weather.hours)
    data = with_prior(data, prior)
    digest = _hash(data, now)
    unchanged = known_hash == digest
    timeline, problem = (None, None) if unchanged else _forecast(data, view, now, solved)
    return Worked(
        _weather_json(weather),
        problem or weather.problem,
        timeline,
        pour.planned,
        assumptions,
        digest,
        unchanged,
        _look_again(view, pour, now),
        began_with(data.get("mix")),
    )


def _forecast(
    data: dict[str, Any], view: JobView, now: datetime, solved: Solved | None
) -> tuple[dict[str, Any] | None, Problem | None]:
    seen = max((read_instant(check["at"]) for check in data["checks"]), default=now)
    at = max(now, min(seen, now + AHEAD_OF_US))
    kept = Solved() if solved is None else solved
    try:
        return dict(write_timeline(forecast(read_pour(data), at, kept), kept)), None
    except ContractError as error:
        return None, problem_of_contract(error.problems, view)
    except Exception:  # noqa: BLE001  (the engine failed at this job: said to people, logged for us, others go on)
        _log.exception("the timeline of job %s could not be computed", view.id)
        words = "The times could not be computed from what is entered."
        return None, Problem("engine_failed", words, "Check the slab, the mix and the load times.")


def _without_timeline(weather: dict[str, Any], problem: Problem, planned: bool) -> Worked:
    return Worked(weather, problem, None, planned, (), "", False, None)


def _look_again(view: JobView, pour: PlannedPour, now: datetime) -> datetime | None:
    """Hourly while saw, wash or sealer wait: what was forecast becomes past, and the times get surer."""
    waits = not pour.planned and work_left(view)
    return now + LOOK_AGAIN if waits and now < pour.begins + LONGEST else None


def _hash(data: dict[str, Any], now: datetime) -> str:
    """Tells inputs apart; a new hour is a new input."""
    text = json.dumps([data, now.strftime("%Y-%m-%dT%H")], sort_keys=True, separators=(",", ":"))
    return hashlib.sha256(text.encode()).hexdigest()


def _weather_json(weather: Assembled) -> dict[str, Any]:
    return {
        "source": weather.source,
        "label": weather.label,
        "covers_from": _iso(weather.covers_from),
        "covers_to": _iso(weather.covers_to),
        "as_of": _iso(weather.as_of),
        "noted": weather.readings,
        "noted_at": _iso(weather.noted),
        "felt": _felt(weather),
    }


def _felt(weather: Assembled) -> dict[str, Any] | None:
    """The hours as the crew feels them, a row of numbers for each quantity."""
    hours = crew_hours(weather.hours)
    if not hours:
        return None
    return {
        "from": _iso(hours[0].at),
        "air_temp_c": [round(hour.air_temp_c, 1) for hour in hours],
        "feels_c": [round(hour.feels_c, 1) for hour in hours],
        "moderate_min": [hour.moderate_min for hour in hours],
        "heavy_min": [hour.heavy_min for hour in hours],
    }


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else write_instant(moment)
