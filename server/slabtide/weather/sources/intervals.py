"""ISO 8601 intervals, and values that hold over them, laid onto whole UTC hours."""

import math
import re
from collections.abc import Iterator, Mapping
from datetime import UTC, datetime, timedelta
from typing import Any

from slabtide.weather.sources.contract import LONGEST_AHEAD, LONGEST_BACK, SourceError
from slabtide.weather.sources.units import Quantity

MOST_VALUES = 1000
LONGEST = timedelta(days=31)
_HOUR = timedelta(hours=1)
_DURATION = re.compile(r"P(?:(\d{1,3})W)?(?:(\d{1,3})D)?(?:T(?:(\d{1,4})H)?(?:(\d{1,5})M)?(?:(\d{1,6})S)?)?")


def read_interval(text: object) -> tuple[datetime, datetime]:
    """The two ends of `start/duration` or `start/end`, UTC. Raises: SourceError.

    >>> [f"{end:%H:%M}" for end in read_interval("2026-07-14T12:00:00-04:00/PT3H")]
    ['16:00', '19:00']
    """
    if not isinstance(text, str) or len(text) > 80:
        raise SourceError("gives a time that can't be read")
    first, _, second = text.partition("/")
    try:
        start = _moment(first)
        end = start + _duration(second) if second.startswith("P") else _moment(second)
    except (ValueError, OverflowError) as error:
        raise SourceError(f"gives a time that can't be read ({text[:60]})") from error
    if not timedelta(0) < end - start <= LONGEST:
        raise SourceError(f"gives a time that can't be ({text[:60]})")
    return start, end


def held(layer: Mapping[str, Any], quantity: Quantity, now: datetime) -> dict[datetime, float]:
    """A layer whose every value holds through its interval, by whole hour. Nulls leave their hours out.

    Raises: SourceError.
    """
    found: dict[datetime, float] = {}
    for start, end, value in _values(layer, quantity, now):
        at = _whole(start)
        at = at if at == start else at + _HOUR
        while at < end:
            found[at] = value
            at += _HOUR
    return found


def spread(layer: Mapping[str, Any], quantity: Quantity, now: datetime) -> dict[datetime, float]:
    """A layer whose every value is a sum over its interval, shared out evenly: the sum of the hour that
    begins at each whole hour. Raises: SourceError."""
    found: dict[datetime, float] = {}
    for start, end, value in _values(layer, quantity, now):
        at = _whole(start)
        while at < end:
            part = (min(end, at + _HOUR) - max(start, at)) / (end - start)
            found[at] = found.get(at, 0.0) + value * part
            at += _HOUR
    return found


def _values(
    layer: Mapping[str, Any], quantity: Quantity, now: datetime
) -> Iterator[tuple[datetime, datetime, float]]:
    values = layer.get("values")
    if not isinstance(values, list) or len(values) > MOST_VALUES:
        raise SourceError(f"gives {quantity.name} in a form that can't be read")
    for item in values:
        if not isinstance(item, dict):
            raise SourceError(f"gives {quantity.name} in a form that can't be read")
        value = item.get("value")
        if value is None:
            continue
        if isinstance(value, bool) or not isinstance(value, int | float) or not math.isfinite(value):
            raise SourceError(f"gives {quantity.name} that is no number")
        start, end = read_interval(item.get("validTime"))
        if start <= now + LONGEST_AHEAD and end >= now - LONGEST_BACK:
            yield start, end, quantity.checked(quantity.turn(layer.get("uom"))(float(value)))


def _moment(text: str) -> datetime:
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError("no offset")
    return moment.astimezone(UTC)


def _duration(text: str) -> timedelta:
    found = _DURATION.fullmatch(text)
    if found is None or not any(found.groups()):
        raise ValueError("no duration")
    weeks, days, hours, minutes, seconds = (int(part or 0) for part in found.groups())
    return timedelta(weeks=weeks, days=days, hours=hours, minutes=minutes, seconds=seconds)


def _whole(at: datetime) -> datetime:
    return at.replace(minute=0, second=0, microsecond=0)
