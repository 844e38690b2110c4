"""Keep the forecasts of the jobs ahead fresh, in a thread of its own: a slow source delays no reminder."""

import logging
import threading
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import datetime
from importlib.metadata import version

from flask import Flask

from slabtide.config import Config, config_of
from slabtide.office import forecast_rows
from slabtide.office.forecast_rows import Wanted
from slabtide.store.session import read, write
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
    """Asks the sources for the places of the jobs ahead. `round` is for one thread at a time."""

    def __init__(self, app: Flask, web: Web, sources: Sequence[ForecastSource]) -> None:
        self._app = app
        self._web = web
        self._sources = sources
        self._stopped = threading.Event()

    def round(self, now: datetime) -> Round:
        """Once through all places, the longest waiting first; at most twenty are asked about."""
        asked = changed = 0
        unreachable: set[str] = set()
        with self._app.app_context():
            for wanted, stand in self._places(now):
                due = is_due(self._sources, stand, now)
                if self._stopped.is_set():
                    break
                if due and asked >= PLACES_PER_ROUND:
                    continue
                asked += due
                changed += self._one(wanted, stand, now, due, unreachable)
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

    def _one(
        self, wanted: Wanted, stand: dict[str, Standing], now: datetime, due: bool, unreachable: set[str]
    ) -> int:
        if not due:
            with read() as session:
                if forecast_rows.is_assigned(session, wanted):
                    return 0
        chosen = choose(self._sources, stand, wanted.place, now, unreachable)
        if self._stopped.is_set():
            return 0
        with write() as session:
            news = forecast_rows.keep(session, wanted, chosen, now)
        if chosen.asked and chosen.label:
            _log.info("forecast for %s: %s", wanted.place.key, chosen.label)
        elif chosen.asked:
            whys = [f"{name} {stood.why}" for name, stood in chosen.standings.items() if stood.why]
            _log.warning("no forecast for %s: %s", wanted.place.key, "; ".join(whys) or "not covered")
        return len(news)


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


def _waits_since(stand: dict[str, Standing]) -> float:
    times = [standing.next_at.timestamp() for standing in stand.values() if standing.next_at]
    return min(times, default=0.0)
