"""Times as the answer writes them: ISO 8601 in the pour's own zone, on the second."""

from collections.abc import Sequence
from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.timeline import When


def time_out(time: datetime, zone: ZoneInfo) -> str:
    """One time."""
    return time.astimezone(zone).isoformat(timespec="seconds")


def times_out(times: Sequence[datetime], zone: ZoneInfo) -> tuple[str, ...]:
    """Many times."""
    return tuple(time_out(time, zone) for time in times)


def when_out(when: When, zone: ZoneInfo) -> dict[str, str]:
    """A time that is not certain."""
    return {
        "early": time_out(when.early, zone),
        "likely": time_out(when.likely, zone),
        "late": time_out(when.late, zone),
    }
