"""Who is asked, in which order: the first source that answers is used; else the last known forecast stands.

Pure but for what the sources do: how each stands for a place goes in and comes out.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, field, replace
from datetime import datetime, timedelta

from slabtide.weather.sources.contract import (
    Forecast,
    ForecastSource,
    Marks,
    Place,
    SourceError,
    UnreachableError,
)

FIRST_RETRY, LONGEST_RETRY = timedelta(minutes=5), timedelta(hours=2)
OUTSIDE_FOR = timedelta(days=7)
LONGEST_LABEL = 300


@dataclass(frozen=True, slots=True)
class Standing:
    """How a source stands for a place. `used`: the hours kept are its own; `next_at`: not to be asked before;
    `why`: what went wrong last (None too where it does not cover the place)."""

    marks: Marks = field(default_factory=Marks)
    next_at: datetime | None = None
    failures: int = 0
    why: str | None = None
    used: bool = False
    label: str = ""
    issued_at: datetime | None = None


@dataclass(frozen=True, slots=True)
class Chosen:
    """What came of it: every source's standing, the new forecast if there is one, and what people are told
    (`label` is empty while there never was a forecast; `as_of`: when it was issued)."""

    standings: Mapping[str, Standing]
    forecast: Forecast | None
    asked: bool
    label: str
    as_of: datetime | None


def is_due(sources: Sequence[ForecastSource], standings: Mapping[str, Standing], now: datetime) -> bool:
    """Whether `choose` would ask anyone."""
    for source in sources:
        was = standings.get(source.name, Standing())
        if was.next_at is None or was.next_at <= now or (not was.failures and not was.used):
            return True
        if not was.failures:
            return False
    return False


def choose(
    sources: Sequence[ForecastSource],
    standings: Mapping[str, Standing],
    place: Place,
    now: datetime,
    unreachable: set[str],
) -> Chosen:
    """Ask the sources in order until one has a forecast for `place`.

    unreachable -- names of sources found dead in this round: not asked again, and added to
    """
    after = {source.name: standings.get(source.name, Standing()) for source in sources}
    missed: list[str] = []
    asked = False
    for source in sources:
        was = after[source.name]
        waits = was.next_at is not None and was.next_at > now
        if waits and not was.failures and was.used:
            return _told(after, None, asked, was, missed)
        if not waits or not was.failures:
            asked = True
            try:
                if source.name in unreachable:
                    raise UnreachableError("can't be reached")
                found = source.fetch(place, was.marks if was.used else Marks(grid=was.marks.grid), now)
            except SourceError as error:
                if isinstance(error, UnreachableError):
                    unreachable.add(source.name)
                was = after[source.name] = _failed(was, error, now)
            else:
                forecast = found if isinstance(found, Forecast) else None
                after = {name: replace(other, used=False) for name, other in after.items()}
                now_used = _kept(was, forecast, now + found.good_for)
                after[source.name] = now_used
                return _told(after, forecast, asked, now_used, missed)
        if was.why:
            missed.append(f"{source.label} {was.why}")
    return _told(after, None, asked, next((one for one in after.values() if one.used), None), missed, True)


def _kept(was: Standing, forecast: Forecast | None, next_at: datetime) -> Standing:
    """A source that answered: with news, or that nothing changed."""
    if forecast is None:
        return replace(was, next_at=next_at, failures=0, why=None, used=True)
    label = ", ".join((forecast.label, *forecast.derived))
    return Standing(forecast.marks, next_at, 0, None, True, label, forecast.issued_at)


def _failed(was: Standing, error: SourceError, now: datetime) -> Standing:
    doubled: timedelta = FIRST_RETRY * int(2 ** min(was.failures, 10))
    wait = max(min(doubled, LONGEST_RETRY), error.retry_after or timedelta(0))
    if error.outside:
        wait = OUTSIDE_FOR
    why = None if error.outside else error.why
    return replace(was, next_at=now + wait, failures=was.failures + 1, why=why)


def _told(
    standings: Mapping[str, Standing],
    forecast: Forecast | None,
    asked: bool,
    used: Standing | None,
    missed: Sequence[str],
    last_known: bool = False,
) -> Chosen:
    if used is None:
        return Chosen(standings, None, asked, "", None)
    label = used.label + (", last known" if last_known else "")
    label += f" ({'; '.join(missed)})" if missed else ""
    return Chosen(standings, forecast, asked, label[:LONGEST_LABEL], used.issued_at)
