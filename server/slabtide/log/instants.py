"""Moments as the log writes them: ISO 8601 in UTC, milliseconds, `Z`."""

from datetime import UTC, datetime, timedelta

EPOCH = datetime(1970, 1, 1, tzinfo=UTC)


def read_instant(text: str) -> datetime:
    """A moment as an aware UTC datetime. Raises ValueError without an offset or when it is no date."""
    moment = datetime.fromisoformat(text)
    if moment.tzinfo is None:
        raise ValueError(f"{text} has no offset: write Z or +hh:mm")
    return moment.astimezone(UTC)


def write_instant(moment: datetime) -> str:
    """`2026-07-14T13:05:00.000Z`, cut to the millisecond. Raises ValueError for a naive datetime."""
    if moment.tzinfo is None:
        raise ValueError("a moment needs its offset")
    return moment.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def to_ms(moment: datetime) -> int:
    """Whole milliseconds since 1970, UTC."""
    return (moment - EPOCH) // timedelta(milliseconds=1)


def from_ms(ms: int) -> datetime:
    """The moment `ms` milliseconds after 1970, UTC."""
    return EPOCH + timedelta(milliseconds=ms)
