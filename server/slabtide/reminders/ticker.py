"""The clock that drives the worker and the forecasts. It only ticks: the tables are the record."""

import logging
from datetime import UTC, datetime

from apscheduler.schedulers.background import BackgroundScheduler
from flask import Flask

from slabtide.config import config_of
from slabtide.office.forecast_round import ROUND_SECONDS, forecasts_of
from slabtide.reminders import worker

LIVE_SEND_WAIT_S = 0.8
_log = logging.getLogger(__name__)


class Ticker:
    """Runs `worker.tick` every `SLABTIDE_TICK_SECONDS` in a thread of its own, one at a time; and, where the
    settings name a source, a round of forecasts every 15 s in another."""

    def __init__(self, app: Flask) -> None:
        self._app = app
        self._scheduler = BackgroundScheduler(timezone=UTC)
        self._scheduler.add_job(
            self._tick,
            "interval",
            seconds=config_of(app).tick_seconds,
            max_instances=1,
            coalesce=True,
            misfire_grace_time=None,
            next_run_time=datetime.now(UTC),
        )
        self._forecasts = forecasts_of(app)
        if self._forecasts is not None:
            self._scheduler.add_job(
                self._round,
                "interval",
                seconds=ROUND_SECONDS,
                max_instances=1,
                coalesce=True,
                misfire_grace_time=None,
                next_run_time=datetime.now(UTC),
            )

    def start(self) -> None:
        """Begin ticking."""
        self._scheduler.start()

    def stop(self) -> None:
        """Stop ticking; wait for the tick and the sends under way."""
        if self._forecasts is not None:
            self._forecasts.stop()
        self._scheduler.shutdown(wait=True)
        worker.close(self._app)

    def _tick(self) -> None:
        try:
            report = worker.tick(self._app, datetime.now(UTC), LIVE_SEND_WAIT_S)
        except Exception:  # noqa: BLE001  (the next tick tries again; the traceback is logged)
            _log.exception("a tick failed")
        else:
            if report.recomputed or report.claimed:
                _log.info("tick: %s", report)

    def _round(self) -> None:
        assert self._forecasts is not None
        try:
            report = self._forecasts.round(datetime.now(UTC))
        except Exception:  # noqa: BLE001  (the next round tries again; the traceback is logged)
            _log.exception("a round of forecasts failed")
        else:
            if report.asked:
                _log.info("forecasts: %s", report)
