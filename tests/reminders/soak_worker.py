"""A worker process whose clock is its driver's: it ticks at each moment it reads, and says so."""

import sys
from datetime import datetime

from slabtide.app import create_app
from slabtide.config import Config
from slabtide.reminders import worker

SEND_WAIT_S = 0.8  # as the running server waits (`reminders/ticker.py`)


def main() -> None:
    """Until standard input ends."""
    app = create_app(Config.from_environment())
    print("ready", flush=True)
    for line in sys.stdin:
        report = worker.tick(app, datetime.fromisoformat(line.strip()), SEND_WAIT_S)
        print(report.sent, flush=True)
    worker.close(app)


if __name__ == "__main__":
    main()
