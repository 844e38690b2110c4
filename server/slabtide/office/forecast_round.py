"""Keep the forecasts of the jobs ahead fresh, in a thread of its own: a slow source delays no reminder."""

import logging
import threading
import time
import uuid
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from importlib.metadata import version

from flask import Flask
from sqlalchemy.orm import Session

from slabtide.config import Config, config_of
from slabtide.office import forecast_rows, forecast_turns
from slabtide.office.forecast_rows import Wanted
from slabtide.store.session import read, written
from slabtide.weather.sources.chain import Standing, choose, is_due
from slabtide.weather.sources.contract import ForecastSource
from slabtide.weather.sources.united_states import UnitedStates
from slabtide.weather.sources.web import Web
from slabtide.weather.sources.worldwide import Worldwide

PLACES_PER_ROUND = 20
ROUND_SECONDS = 15.0
_log = logging.getLogger(__name__)


@dataclass(frozen=True, slots=True)
class Round:
    """What one round did: places asked about, jobs whose forecast changed."""

    asked: int
    changed_jobs: int


class Forecasts:
    """Asks the sources for the places of the jobs ahead. `round` is for one thread at a time; other processes
    may go their own rounds, each place being asked for by one of them."""

    def __init__(self, app: Flask, web: Web, sources: Sequence[ForecastSource]) -> None:
        self._app = app
        self._web = web
        self._sources = sources
        self._stopped = threading.Event()
        self._holder = uuid.uuid4().hex

    def round(self, now: datetime) -> Round:
        """Once through all places, the longest waiting first; at most twenty are asked about."""
        began = time.monotonic()
        asked = changed = 0
        unreachable: set[str] = set()
        with self._app.app_context():
            for wanted, stand in self._places(now):
                due = is_due(self._sources, stand, now)
                if self._stopped.is_set():
                    break
                if due and asked >= PLACES_PER_ROUND:
                    continue
                if not due and (not _is_used(stand) or self._is_assigned(wanted)):
                    continue
                at = now + timedelta(seconds=time.monotonic() - began)
                did = self._in_turn(wanted, now, at, unreachable)
                asked += did is not None and did[0]
                changed += did[1] if did else 0
        return Round(asked, changed)

    def stop(self) -> None:
        """Let go of what is under way; a round ends at once."""
        self._stopped.set()
        self._web.stop()

    def _places(self, now: datetime) -> list[tuple[Wanted, dict[str, Standing]]]:
        with read() as session:
            wanted = forecast_rows.wanted_places(session, now)
            known = forecast_rows.standings(session)
        found = [(place, known.get(place.where, {})) for place in wanted]
        return sorted(found, key=lambda item: _waits_since(item[1]))

    def _is_assigned(self, wanted: Wanted) -> bool:
        with read() as session:
            return forecast_rows.is_assigned(session, wanted)

    def _in_turn(
        self, wanted: Wanted, now: datetime, at: datetime, unreachable: set[str]
    ) -> tuple[bool, int] | None:
        """Ask for one place, if nobody else does just now: whether a source was asked, and for how many jobs
        the answer is news; None where it is another's turn, or the server stops.

        now -- when the round began, which is what people are told; at -- the moment itself
        """
        if not written(lambda session: forecast_turns.take(session, wanted, self._holder, at)):
            return None
        with read() as session:  # again: whoever had the turn before may have asked meanwhile
            stand = forecast_rows.standings(session, wanted.where).get(wanted.where, {})
        chosen = choose(self._sources, stand, wanted.place, now, unreachable)
        if self._stopped.is_set():
            written(lambda session: forecast_turns.give_back(session, wanted, self._holder, at))
            return None

        def kept(session: Session) -> list[str]:
            mine = forecast_turns.give_back(session, wanted, self._holder, at)
            return forecast_rows.keep(session, wanted, chosen, now) if mine else []

        news = written(kept)
        if chosen.asked and chosen.label:
            _log.info("forecast for %s: %s", wanted.place.key, chosen.label)
        elif chosen.asked:
            whys = [f"{name} {stood.why}" for name, stood in chosen.standings.items() if stood.why]
            _log.warning("no forecast for %s: %s", wanted.place.key, "; ".join(whys) or "not covered")
        return chosen.asked, len(news)


def forecasts_of(app: Flask) -> Forecasts | None:
    """The forecasts of an application, or None where the settings name no source, or nobody to reach."""
    config = config_of(app)
    addresses = [address for address in (config.forecast_us_url, config.forecast_world_url) if address]
    if not addresses:
        return None
    if config.push_contact is None:
        _log.warning("forecasts are off: SLABTIDE_PUSH_CONTACT is not set; their services want an address")
        return None
    web = Web(f"Slabtide/{version('slabtide')} ({config.push_contact})", addresses)
    return Forecasts(app, web, sources_of(config, web))


def sources_of(config: Config, web: Web) -> tuple[ForecastSource, ...]:
    """The sources the settings name, in the order they are asked."""
    sources: list[ForecastSource] = []
    if config.forecast_us_url:
        sources.append(UnitedStates(web, config.forecast_us_url))
    if config.forecast_world_url:
        sources.append(Worldwide(web, config.forecast_world_url))
    return tuple(sources)


def _is_used(stand: dict[str, Standing]) -> bool:
    return any(standing.used for standing in stand.values())


def _waits_since(stand: dict[str, Standing]) -> float:
    times = [standing.next_at.timestamp() for standing in stand.values() if standing.next_at]
    return min(times, default=0.0)
