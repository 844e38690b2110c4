"""Moments keep their offset on the way in, and go out as UTC with milliseconds."""

from datetime import UTC, datetime

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.log.instants import from_ms, read_instant, to_ms, write_instant


@pytest.mark.parametrize(
    "text",
    [
        "2026-07-14T13:05:00.000Z",
        "2026-07-14T08:05:00-05:00",
        "2026-07-14T13:05Z",
        "2026-07-14T15:05:00+02:00",
    ],
)
def test_the_same_moment_is_read_from_any_offset(text: str) -> None:
    assert write_instant(read_instant(text)) == "2026-07-14T13:05:00.000Z"


def test_a_moment_without_an_offset_is_refused() -> None:
    with pytest.raises(ValueError, match="no offset"):
        read_instant("2026-07-14T13:05:00")
    with pytest.raises(ValueError, match="needs its offset"):
        write_instant(datetime(2026, 7, 14))


def test_microseconds_are_cut_not_rounded_up() -> None:
    assert write_instant(datetime(2026, 7, 14, 12, 59, 59, 999_999, UTC)) == "2026-07-14T12:59:59.999Z"


@given(st.integers(0, 4_102_444_800_000))
def test_milliseconds_survive_the_round_trip(ms: int) -> None:
    assert to_ms(read_instant(write_instant(from_ms(ms)))) == ms
