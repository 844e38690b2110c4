"""Weather hours kept for a job: forecast where there is one, else from a file; read for every outlook."""

from collections.abc import Mapping
from dataclasses import replace
from datetime import date, datetime

from sqlalchemy import delete, insert, select
from sqlalchemy.orm import Session

from slabtide.engine.pour import WeatherHour
from slabtide.office.forecast_rows import forecast_of, row_values
from slabtide.store.jobs import mark_dirty
from slabtide.store.tables import WeatherHour as Row
from slabtide.weather.contract import HourlySeries, SourceKind, WeatherError
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
    series = replace(read_file(text, name, onto, like), as_of=now)
    keep_hours(session, company_id, job, series)
    mark_dirty(session, company_id, job, now)
    return series


def keep_hours(session: Session, company_id: str, place: str, series: HourlySeries) -> None:
    """Replace the stored hours of a place."""
    session.execute(delete(Row).where(Row.company_id == company_id, Row.place == place))
    label = series.label[:LONGEST_LABEL]
    rows = [row_values(company_id, place, hour, series.source, label, series.as_of) for hour in series.hours]
    session.execute(insert(Row), rows)


def stored_hours(
    session: Session, company_id: str, job: str, start: datetime, end: datetime
) -> HourlySeries | None:
    """The hours kept for a job from `start` to `end`, or None when there are none.

    A forecast's hours win over a file's. The label names what is used; `as_of` is the forecast's time of
    issue, or when the file was loaded.
    """
    by_file = {row.at: row for row in _rows(session, company_id, job, start, end)}
    forecast = forecast_of(session, company_id, job)
    told = (
        {}
        if forecast is None
        else {row.at: row for row in _rows(session, company_id, forecast.place, start, end)}
    )
    if forecast is None or not told:
        return _series(by_file, "file")
    both = _series(by_file | told, "forecast")
    labels = [forecast.label, *sorted({row.label for at, row in by_file.items() if at not in told})]
    return both and replace(both, label="; ".join(labels), as_of=forecast.as_of)


def _rows(session: Session, company_id: str, place: str, start: datetime, end: datetime) -> list[Row]:
    query = select(Row).where(
        Row.company_id == company_id, Row.place == place, Row.at >= start, Row.at <= end
    )
    return list(session.scalars(query.order_by(Row.at)))


def _series(rows: Mapping[datetime, Row], source: SourceKind) -> HourlySeries | None:
    if not rows:
        return None
    first = min(rows)
    hours = tuple(_hour(rows[at]) for at in sorted(rows))
    return HourlySeries(hours, source, rows[first].label, rows[first].loaded_at)


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
