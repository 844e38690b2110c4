"""When to pour: every candidate hour tried over the forecast, ranked, with what is held against each.

Each hour is a whole pour of its own, its loads moved in step and its heat solved: the 256 members of
`forecast` to the end of texturing, the likely weather on through the first night, for saw, drop and frost.
"""

from collections.abc import Sequence
from dataclasses import dataclass, replace
from datetime import UTC, date, datetime, time, timedelta
from zoneinfo import ZoneInfo

from slabtide.engine.advice_limits import DEFAULT_LIMITS, AdviceLimits
from slabtide.engine.advice_reasons import VERDICTS, Reason, Verdict, reasons_against, verdict_of
from slabtide.engine.advice_trial import REACH_H, Trial, tried
from slabtide.engine.pour import Pour, WeatherHour

FIRST_HOUR, LAST_HOUR = 4, 18
_LEAST_AHEAD_H = 8
CONCRETE_FOLLOWS_AIR = 0.5  # of what the air warms by from hour to hour, the plant's concrete does (EST)
_MOST_CANDIDATES = 24 * 10


@dataclass(frozen=True, slots=True)
class Candidate:
    """One hour to start placing: its rank (1 is best), its verdict, how heavy all that is held against it
    weighs (hours that weigh the same go by the clock), its figures, and what is held, gravest first."""

    start: datetime
    rank: int
    verdict: Verdict
    burden: int
    trial: Trial
    reasons: tuple[Reason, ...]


@dataclass(frozen=True, slots=True)
class Advice:
    """All hours, best first; `best` is the first of them, whatever its verdict."""

    time_zone: str
    candidates: tuple[Candidate, ...]
    limits: AdviceLimits

    @property
    def best(self) -> Candidate:
        """The hour to take, or the least bad."""
        return self.candidates[0]

    @property
    def verdict(self) -> Verdict:
        """That of the best hour."""
        return self.best.verdict


def hours_of_day(pour: Pour, day: date) -> tuple[datetime, ...]:
    """Whole hours of a day in the pour's zone, 4 to 18 o'clock, that the weather reaches far enough past."""
    zone = ZoneInfo(pour.time_zone)
    hours = [datetime.combine(day, time(hour), zone) for hour in range(FIRST_HOUR, LAST_HOUR + 1)]
    return tuple(hour for hour in hours if _is_covered(pour, hour))


def advise(
    pour: Pour, at: datetime, starts: Sequence[datetime], limits: AdviceLimits = DEFAULT_LIMITS
) -> Advice:
    """The pour tried at each hour.

    pour -- the pour as planned: loads with their times, crew, mix, and weather over all the hours
    at -- now, with UTC offset
    starts -- when placing of the first load would begin, 1 to 240 times, see `hours_of_day`
    limits -- where an hour gets tight, and where it is a no-go

    Concrete comes warmer or cooler by half of what the air does between the planned hour and the one tried.

    Raises: ValueError when there is no start, too many, one without offset, or one the weather doesn't cover.
    """
    if not 1 <= len(starts) <= _MOST_CANDIDATES:
        raise ValueError(f"{len(starts)} starts; allowed: 1 to {_MOST_CANDIDATES}")
    for start in starts:
        if start.utcoffset() is None or not _is_covered(pour, start):
            raise ValueError(f"{start.isoformat()} is not covered by the weather, or has no offset")
    candidates = [_judged(pour, start, at, limits) for start in starts]
    candidates.sort(key=lambda one: (VERDICTS.index(one.verdict), one.burden, one.start))
    ranked = tuple(replace(one, rank=rank) for rank, one in enumerate(candidates, 1))
    return Advice(pour.time_zone, ranked, limits)


def _judged(pour: Pour, start: datetime, at: datetime, limits: AdviceLimits) -> Candidate:
    trial = tried(moved(pour, start), at, limits)
    reasons = reasons_against(trial, limits)
    burden = round(sum(reason.burden for reason in reasons))
    return Candidate(start.astimezone(UTC), 0, verdict_of(reasons), burden, trial, reasons)


def moved(pour: Pour, start: datetime) -> Pour:
    """The pour with placing of its first load begun at another time: loads and covers move in step, and
    weather is cut to what a trial needs. Checks are left out: nothing is placed yet."""
    first = min(load.placed_from for load in pour.loads).astimezone(UTC)
    step = start.astimezone(UTC) - first
    warmer = _air_at(pour, start) - _air_at(pour, first)
    loads = tuple(
        replace(
            load,
            batched_at=load.batched_at.astimezone(UTC) + step,
            placed_from=load.placed_from.astimezone(UTC) + step,
            placed_to=load.placed_to.astimezone(UTC) + step,
            concrete_temp_c=min(45.0, max(2.0, load.concrete_temp_c + CONCRETE_FOLLOWS_AIR * warmer)),
        )
        for load in pour.loads
    )
    covers = tuple(
        replace(cover, starts=cover.starts.astimezone(UTC) + step, ends=cover.ends.astimezone(UTC) + step)
        for cover in pour.covers
    )
    last = max(load.placed_to for load in loads)
    hours = tuple(hour for hour in pour.weather.hourly if _near(hour, start, last))
    return replace(pour, loads=loads, covers=covers, checks=(), weather=replace(pour.weather, hourly=hours))


def _near(hour: WeatherHour, start: datetime, last: datetime) -> bool:
    return start - timedelta(hours=1) <= hour.at <= last + timedelta(hours=REACH_H)


def _air_at(pour: Pour, at: datetime) -> float:
    """Air at the nearest weather hour [°C]."""
    hourly = pour.weather.hourly
    index = round((at - hourly[0].at.astimezone(UTC)).total_seconds() / 3600.0)
    return hourly[min(max(index, 0), len(hourly) - 1)].air_temp_c


def _is_covered(pour: Pour, start: datetime) -> bool:
    """Whether the weather holds the placing of every load and some hours more."""
    first = min(load.placed_from for load in pour.loads)
    span = max(load.placed_to for load in pour.loads).astimezone(UTC) - first.astimezone(UTC)
    hourly = pour.weather.hourly
    return hourly[0].at <= start and start + span + timedelta(hours=_LEAST_AHEAD_H) <= hourly[-1].at
