"""Weather hours kept for a job: loaded from a file once, read for every outlook."""

from datetime import date, datetime

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from slabtide.engine.pour import WeatherHour
from slabtide.store.jobs import mark_dirty
from slabtide.store.tables import WeatherHour as Row
from slabtide.weather.contract import HourlySeries, WeatherError
from slabtide.weather.hourly_file import read_hourly
from slabtide.weather.tmy3 import looks_like_tmy3, read_tmy3

LONGEST_LABEL = 120


def read_file(text: str, name: str, onto: date | None, like: tuple[int, int] | None = None) -> HourlySeries:
    """The hours of a weather file: TMY3, or hourly JSON.

    onto -- the date the series is shifted onto (a typical year needs one); like -- (month, day) of the
    typical year to lay there
    Raises: WeatherError.
    """
    if looks_like_tmy3(text):
        if onto is None:
            raise WeatherError("A typical year has no dates of its own: say the date to lay it onto.")
        return read_tmy3(text, onto, like=like)[1]
    return read_hourly(text, name, onto)


def load_file(
    session: Session,
    company_id: str,
    job: str,
    text: str,
    name: str,
    onto: date | None,
    now: datetime,
    like: tuple[int, int] | None = None,
) -> HourlySeries:
    """Read a weather file, keep its hours for a job in place of those it had, and mark the job for a new
    outlook. Raises: WeatherError, and then nothing has changed."""
    series = read_file(text, name, onto, like)
    keep_hours(session, company_id, job, series)
    mark_dirty(session, company_id, job, now)
    return series


def keep_hours(session: Session, company_id: str, place: str, series: HourlySeries) -> None:
    """Replace the stored hours of a place."""
    session.execute(delete(Row).where(Row.company_id == company_id, Row.place == place))
    rows = [
        {
            "company_id": company_id,
            "place": place,
            "at": hour.at,
            "air_temp_c": hour.air_temp_c,
            "rh": hour.rh,
            "wind_kmh": hour.wind_kmh,
            "wind_height_m": hour.wind_height_m,
            "cloud": hour.cloud,
            "solar_w_m2": hour.solar_w_m2,
            "rain_mm": hour.rain_mm,
            "source": series.source,
            "label": series.label[:LONGEST_LABEL],
        }
        for hour in series.hours
    ]
    session.execute(insert(Row), rows)


def stored_hours(
    session: Session, company_id: str, place: str, start: datetime, end: datetime
) -> HourlySeries | None:
    """The stored hours of a place from `start` to `end`, or None when there are none."""
    query = (
        select(Row)
        .where(Row.company_id == company_id, Row.place == place, Row.at >= start, Row.at <= end)
        .order_by(Row.at)
    )
    rows = list(session.scalars(query))
    if not rows:
        return None
    return HourlySeries(tuple(_hour(row) for row in rows), "file", rows[0].label)


def _hour(row: Row) -> WeatherHour:
    return WeatherHour(
        row.at,
        row.air_temp_c,
        row.rh,
        row.wind_kmh,
        row.wind_height_m,
        row.cloud or 0.0,
        row.solar_w_m2 or 0.0,
        row.rain_mm or 0.0,
    )
