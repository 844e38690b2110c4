"""The weather of one job: hand entry first, stored hours (a forecast's, a file's) for the rest, on-site
readings over all."""

from collections.abc import Iterator, Mapping
from dataclasses import dataclass
from datetime import UTC, date, datetime, timedelta
from zoneinfo import ZoneInfo

from slabtide.engine.diurnal import DayEntry
from slabtide.engine.pour import WeatherHour
from slabtide.log.instants import read_instant
from slabtide.log.model import JobView
from slabtide.weather.contract import HourlySeries, Problem, SourceKind, WeatherError
from slabtide.weather.hand import HandEntry
from slabtide.weather.readings import Reading, corrected

NEEDED_AFTER_START = timedelta(hours=48)  # sawing and the first wash fall inside; later work wants more
_HOUR = timedelta(hours=1)
_DAYS = ("Monday", "Tuesday", "Wednesday", "Thursday", "Friday", "Saturday", "Sunday")


@dataclass(frozen=True, slots=True)
class Assembled:
    """Hours without a gap from `covers_from` to `covers_to`, and what a person should know about them.

    `as_of`: when the days were entered by hand, the forecast was issued or the file was loaded; `noted`: the
    last on-site reading worked in; `readings`: how many. `problem` is set when the hours end before they
    should; there may still be hours enough to begin.
    """

    hours: tuple[WeatherHour, ...]
    source: SourceKind
    label: str
    covers_from: datetime | None
    covers_to: datetime | None
    as_of: datetime | None
    noted: datetime | None
    readings: int
    problem: Problem | None


def weather_for(view: JobView, stored: HourlySeries | None, start: datetime, end: datetime) -> Assembled:
    """Hours from the whole hour at or before `start`, as far towards `end` as anyone knows them.

    Days entered by hand win on the days they name. The hours stop at the first gap; a gap within 48 h of
    `start` is a problem that names the day to enter.
    """
    zone = ZoneInfo(view.opened.time_zone if view.opened else "UTC")
    first = start.astimezone(UTC).replace(minute=0, second=0, microsecond=0)
    hand = _hand(view)
    try:
        by_hand = _by_time(hand.hourly(first - _HOUR, end + _HOUR) if hand else None)
    except WeatherError as error:
        return _nothing(
            Problem("weather_wrong", f"{error}.", "Correct that day under Lay out, Weather by hand.")
        )
    by_file = _by_time(stored)
    hours = tuple(_unbroken(first, end, hand, by_hand, by_file))
    problem = _short(first, end, hours, zone)
    if not hours:
        return _nothing(problem)
    used_hand = any(by_hand.get(hour.at) is hour for hour in hours)
    used_file = any(by_file.get(hour.at) is hour for hour in hours)
    readings = [reading for reading in _readings(view) if hours[0].at <= reading.at <= hours[-1].at]
    labels = ([_hand_label(view)] if used_hand else []) + (
        [stored.label] if stored is not None and used_file else []
    )
    return Assembled(
        hours=corrected(hours, readings),
        source="hand" if used_hand or stored is None else stored.source,
        label="; ".join(labels),
        covers_from=hours[0].at,
        covers_to=hours[-1].at,
        as_of=read_instant(view.weather_days[0].at) if used_hand else stored.as_of if stored else None,
        noted=max((reading.at for reading in readings), default=None),
        readings=len(readings),
        problem=problem,
    )


def _hand(view: JobView) -> HandEntry | None:
    if view.opened is None or not view.weather_days:
        return None
    days = tuple(
        DayEntry(date.fromisoformat(day.date), day.low_c, day.high_c, day.rh, day.wind_kmh, day.cloud)
        for day in view.weather_days
    )
    return HandEntry(days, view.opened.latitude_deg, view.opened.longitude_deg, view.opened.time_zone)


def _hand_label(view: JobView) -> str:
    days = [date.fromisoformat(day.date) for day in view.weather_days]
    first, last = min(days), max(days)
    span = f"{first:%b} {first.day}" + (f" to {last:%b} {last.day}" if last != first else "")
    return f"Entered by hand for {span}"


def _by_time(series: HourlySeries | None) -> Mapping[datetime, WeatherHour]:
    return {hour.at: hour for hour in series.hours} if series else {}


def _unbroken(
    first: datetime,
    end: datetime,
    hand: HandEntry | None,
    by_hand: Mapping[datetime, WeatherHour],
    by_file: Mapping[datetime, WeatherHour],
) -> Iterator[WeatherHour]:
    at = first
    while at < end + _HOUR:
        entered = by_hand.get(at)
        # The midnight that closes the last entered day belongs to the day after, if the file knows that.
        if entered is None or (hand is not None and not hand.covers(at)):
            entered = by_file.get(at, entered)
        if entered is None:
            return
        yield entered
        at += _HOUR


def _short(first: datetime, end: datetime, hours: tuple[WeatherHour, ...], zone: ZoneInfo) -> Problem | None:
    """The problem of hours that end too soon, or None."""
    missing = hours[-1].at if hours else first
    if missing >= min(end, first + NEEDED_AFTER_START):
        return None
    day = missing.astimezone(zone).date()
    wanted = day
    said = f"{_DAYS[day.weekday()]}, {day:%B} {day.day}"
    code, message = ("weather_short", f"The weather ends on {said}.")
    if not hours:
        code, message = "weather_missing", f"There is no weather for {said}."
    elif missing.astimezone(zone).hour >= 23:
        wanted = day + timedelta(days=1)
    name = _DAYS[wanted.weekday()]
    return Problem(code, message, f"Enter low and high for {name}.", (("day", wanted.isoformat()),))


def _readings(view: JobView) -> Iterator[Reading]:
    for note in view.weather_notes:
        yield Reading(
            read_instant(note.at), note.air_temp_c, note.rh, note.wind_kmh, note.cloud, note.raining
        )


def _nothing(problem: Problem | None) -> Assembled:
    return Assembled((), "none", "No weather yet", None, None, None, None, 0, problem)
