"""A server process that goes one round of forecasts and ends: its home, database, service and time."""

import sys
from datetime import datetime
from pathlib import Path

from tests.conftest import config_in

from slabtide.app import create_app
from slabtide.office.forecast_round import Forecasts
from slabtide.store import database
from slabtide.weather.sources.united_states import UnitedStates
from slabtide.weather.sources.web import Web


def main(home: str, url: str, address: str, now: str) -> None:
    app = create_app(config_in(Path(home), database_url=url))
    web = Web("Slabtide/test (mailto:office@slab.test)", [address])
    report = Forecasts(app, web, (UnitedStates(web, address),)).round(datetime.fromisoformat(now))
    print(report.asked, report.changed_jobs)
    database.dispose(app)


if __name__ == "__main__":
    main(*sys.argv[1:])
