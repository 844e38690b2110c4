"""Hours that a phone is sent come out as they went in, to the last digit."""

import json
from datetime import UTC, datetime, timedelta

from hypothesis import given
from hypothesis import strategies as st

from slabtide.engine.pour import WeatherHour
from slabtide.weather.contract import HourlySeries
from slabtide.weather.packed import pack, unpack

FIRST = datetime(2026, 7, 14, 6, tzinfo=UTC)
HOUR = timedelta(hours=1)
numbers = st.floats(0, 60)


def hour(index: int, air_temp_c: float = 21.5, rh: float = 0.625) -> WeatherHour:
    return WeatherHour(FIRST + index * HOUR, air_temp_c, rh, 9.3, 10.0, 0.25, 410.5, 0.0)


@given(st.dictionaries(st.integers(0, 50), st.tuples(numbers, st.floats(0, 1)), min_size=1))
def test_what_is_packed_and_sent_unpacks_the_same(told: dict[int, tuple[float, float]]) -> None:
    hours = tuple(hour(index, *told[index]) for index in sorted(told))
    series = HourlySeries(hours, "forecast", "Greensboro", FIRST - 3 * HOUR)
    sent = json.loads(json.dumps(pack(series)))
    assert unpack(sent, FIRST, FIRST + 60 * HOUR) == series


def test_a_missing_hour_stays_missing() -> None:
    packed = pack(HourlySeries((hour(0), hour(2)), "file", "Greensboro"))
    assert packed is not None
    assert packed["rh"] == [0.625, None, 0.625]
    series = unpack(packed, FIRST, FIRST + 3 * HOUR)
    assert series is not None
    assert [each.at for each in series.hours] == [FIRST, FIRST + 2 * HOUR]


def test_only_the_hours_asked_for_are_unpacked() -> None:
    packed = pack(HourlySeries(tuple(map(hour, range(10))), "file", "Greensboro"))
    series = unpack(packed, FIRST + 2 * HOUR, FIRST + 4 * HOUR)
    assert series is not None
    assert series.hours == (hour(2), hour(3), hour(4))
    assert unpack(packed, FIRST + 20 * HOUR, FIRST + 30 * HOUR) is None


def test_whole_numbers_are_measures_again() -> None:
    """A browser writes 8.0 as 8."""
    series = HourlySeries((hour(0, 21.0, 1.0),), "file", "Greensboro")
    sent = pack(series)
    assert sent is not None
    sent["air_temp_c"], sent["rh"] = [21], [1]
    read = unpack(sent, FIRST, FIRST)
    assert read is not None
    assert isinstance(read.hours[0].air_temp_c, float)


def test_without_hours_there_is_nothing_to_send() -> None:
    assert pack(None) is None
    assert unpack(None, FIRST, FIRST + HOUR) is None


def test_hours_kept_from_an_older_server_are_still_read() -> None:
    packed = pack(HourlySeries((hour(0),), "forecast", "Grid forecast", FIRST))
    assert packed is not None
    old = {name: value for name, value in packed.items() if name not in ("source", "as_of")}
    assert unpack(old, FIRST, FIRST + HOUR) == HourlySeries((hour(0),), "file", "Grid forecast")
