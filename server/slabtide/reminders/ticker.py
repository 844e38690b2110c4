"""The clock that drives the worker. It only ticks: the tables are the record of what is due."""

import logging
from datetime import UTC, datetime

from apscheduler.schedulers.background import BackgroundScheduler
from flask import Flask

from slabtide.config import config_of
from slabtide.reminders import worker

LIVE_SEND_WAIT_S = 0.8
_log = logging.getLogger(__name__)


class Ticker:
    """Runs `worker.tick` every `SLABTIDE_TICK_SECONDS` in a thread of its own, one at a time."""

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

    def start(self) -> None:
        """Begin ticking."""
        self._scheduler.start()

    def stop(self) -> None:
        """Stop ticking; wait for the tick and the sends under way."""
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
