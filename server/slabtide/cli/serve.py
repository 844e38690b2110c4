"""`slabtide serve`: the web server and the ticker in one process, ended cleanly by a signal."""

from __future__ import annotations

import logging
import signal
import sys
from argparse import Namespace
from types import FrameType

from flask import Flask
from waitress.server import create_server

from slabtide.app import create_app
from slabtide.cli.telling import in_words
from slabtide.config import config_of
from slabtide.reminders.ticker import Ticker
from slabtide.store import database
from slabtide.store.serving import at_work

# The largest photo and a little; what is larger is refused before it is read.
LARGEST_BODY_BYTES = 13 * 1024 * 1024
# Browsers keep a connection open between calls; the usual limit of 100 would let a hundred phones shut out
# the next. Below the 1,024 open files that a process may commonly have.
MOST_CONNECTIONS = 800
# A phone's call gives way at each wait for disk or line. Python's own 5 ms would then be a tick's each
# time; with 1 ms, calls beside a busy tick took half as long at the ninth decile, and the tick no longer.
SWITCH_S = 0.001


@in_words
def serve(wanted: Namespace) -> int:
    """Serve until SIGTERM or SIGINT; calls under way are answered, a tick under way is finished."""
    logging.basicConfig(level=logging.INFO, format="%(asctime)s %(levelname)s %(name)s: %(message)s")
    for chatty in ("apscheduler", "alembic"):
        logging.getLogger(chatty).setLevel(logging.WARNING)
    sys.setswitchinterval(SWITCH_S)
    app = create_app()
    with at_work(config_of(app).home):
        signal.signal(signal.SIGTERM, _stop)
        ticker = Ticker(app)
        ticker.start()
        try:
            _listen(app)
        finally:
            ticker.stop()
            database.dispose(app)
    return 0


def _listen(app: Flask) -> None:
    config = config_of(app)
    try:
        server = create_server(
            app,
            host=config.host,
            port=config.port,
            threads=config.threads,
            max_request_body_size=LARGEST_BODY_BYTES,
            connection_limit=MOST_CONNECTIONS,
            asyncore_use_poll=True,
            ident=None,
            clear_untrusted_proxy_headers=not config.trusted_proxies,
        )
    except OSError as problem:
        raise SystemExit(
            f"slabtide: can't listen on {config.host}:{config.port}: {problem.strerror}."
        ) from None
    logging.getLogger(__name__).info("serving at %s", config.own_url)
    # waitress turns the SystemExit of `_stop` into an orderly end: what is under way is answered first.
    server.run()
    server.close()


def _stop(number: int, frame: FrameType | None) -> None:
    sys.exit(0)
