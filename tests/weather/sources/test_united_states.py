"""The United States grid forecast, in the shape its service publishes."""

from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from tests.weather.sources.conftest import Serve, web_for
from tests.weather.sources.service import (
    HOUR,
    POINT,
    Asked,
    ForecastService,
    at_noon,
    grid,
    layer,
    united_states,
)

from slabtide.engine.sun import clear_sky_w_m2, clouded_w_m2, cos_zenith
from slabtide.weather.sources.contract import Forecast, Marks, Place, SourceError, Unchanged
from slabtide.weather.sources.united_states import UnitedStates

PLACE = Place.near(36.1001, -79.9499)
NOW = at_noon()
FIRST = NOW - 6 * HOUR


def source(service: ForecastService) -> UnitedStates:
    return UnitedStates(web_for(service), service.address)


def fetched(service: ForecastService, marks: Marks = Marks()) -> Forecast:  # noqa: B008  (frozen)
    found = source(service).fetch(PLACE, marks, NOW)
    assert isinstance(found, Forecast)
    return found


def why(serve: Serve, body: Any) -> str:
    with pytest.raises(SourceError) as caught:
        fetched(serve(united_states(lambda: body)))
    return caught.value.why


def test_a_point_leads_to_its_grid_cell_on_the_same_host_and_is_kept(serve: Serve) -> None:
    service = serve(united_states(lambda: grid(FIRST), ETag='"a"', Cache_Control="max-age=3600"))
    found = fetched(service)
    assert service.paths == ["/points/36.1,-79.95", "/gridpoints/RAH/22,64"]
    assert found.marks == Marks('"a"', None, "RAH/22,64")
    assert found.issued_at == FIRST
    again = fetched(service, found.marks)
    assert service.paths[2:] == ["/gridpoints/RAH/22,64"]
    assert service.seen[-1][1]["if-none-match"] == '"a"'
    assert again.hours == found.hours


def test_every_quantity_arrives_in_our_units_and_spells_are_laid_onto_hours(serve: Serve) -> None:
    found = fetched(serve(united_states(lambda: grid(FIRST))))
    assert [hour.at for hour in found.hours] == [FIRST + i * HOUR for i in range(120)]
    hour = found.hours[3]
    assert (hour.air_temp_c, hour.rh, hour.wind_kmh, hour.cloud) == (24.0, 0.55, 11.11, 0.4)
    assert [hour.rain_mm for hour in found.hours[:8]] == [0.5] * 6 + [0.0] * 2, "a sum is shared out"


def test_sun_follows_from_its_height_and_the_cloud_and_is_named(serve: Serve) -> None:
    found = fetched(serve(united_states(lambda: grid(FIRST))))
    noon = next(hour for hour in found.hours if hour.at == NOW + 5 * HOUR)
    expected = clouded_w_m2(clear_sky_w_m2(cos_zenith(noon.at, 36.1, -79.95)), 0.4)
    assert noon.solar_w_m2 == pytest.approx(expected, abs=0.1)
    assert noon.solar_w_m2 > 500
    assert found.derived == ("sun worked out from its height and the cloud",)


def test_other_units_are_turned_and_unknown_ones_refused(serve: Serve) -> None:
    warm = layer("degF", *((FIRST + i * HOUR, "PT1H", 68.0) for i in range(48)))
    windy = layer("m_s-1", (FIRST, "P2D", 5.0))
    rain = layer("in", (FIRST, "PT1H", 0.1))
    body = grid(FIRST, 48, temperature=warm, windSpeed=windy, quantitativePrecipitation=rain)
    hour = fetched(serve(united_states(lambda: body))).hours[0]
    assert (hour.air_temp_c, hour.wind_kmh, hour.rain_mm) == (20.0, 18.0, 2.54)
    odd = grid(FIRST, windSpeed=layer("furlong", (FIRST, "P2D", 5.0)))
    assert why(serve, odd) == "gives a wind in a unit we don't know (wmoUnit:furlong)"


def test_humidity_follows_from_the_dew_point_where_it_is_not_given(serve: Serve) -> None:
    body = grid(FIRST, relativeHumidity={}, dewpoint=layer("degC", (FIRST, "PT120H", 24.0)))
    assert fetched(serve(united_states(lambda: body))).hours[0].rh == 1.0


def test_short_gaps_are_bridged_and_long_ones_stay(serve: Serve) -> None:
    known = [i for i in range(48) if i not in (10, 11, *range(20, 26))]
    air = layer("degC", *((FIRST + i * HOUR, "PT1H", float(i)) for i in known))
    air["values"].insert(10, {"validTime": f"{(FIRST + 10 * HOUR).isoformat()}/PT1H", "value": None})
    found = fetched(serve(united_states(lambda: grid(FIRST, 48, temperature=air))))
    by_time = {hour.at: hour.air_temp_c for hour in found.hours}
    assert by_time[FIRST + 10 * HOUR] == 10.0
    assert by_time[FIRST + 11 * HOUR] == 11.0
    assert FIRST + 22 * HOUR not in by_time


@pytest.mark.parametrize("day", [datetime(2026, 3, 8, tzinfo=UTC), datetime(2026, 11, 1, tzinfo=UTC)])
def test_days_on_which_clocks_change_have_all_their_hours_once(serve: Serve, day: datetime) -> None:
    local = [(day + i * HOUR).astimezone().isoformat() for i in range(48)]
    air = {"uom": "wmoUnit:degC", "values": [{"validTime": f"{at}/PT1H", "value": 9} for at in local]}
    body = grid(day, 48, temperature=air)
    service = serve(united_states(lambda: body))
    found = source(service).fetch(PLACE, Marks(), day + 12 * HOUR)
    assert isinstance(found, Forecast)
    assert [hour.at for hour in found.hours] == [day + i * HOUR for i in range(48)]


def test_outside_its_country_it_says_so_once_and_for_long(serve: Serve) -> None:
    service = serve(lambda asked: asked.tell({"title": "Data Unavailable For Requested Point"}, 404))
    with pytest.raises(SourceError) as caught:
        fetched(service)
    assert caught.value.outside


def test_a_cell_that_moved_is_looked_up_again(serve: Serve) -> None:
    def answer(asked: Asked) -> None:
        old = "/gridpoints/RAH/1,1"
        asked.tell({}, 404) if asked.path == old else united_states(lambda: grid(FIRST))(asked)

    service = serve(answer)
    assert fetched(service, Marks('"a"', None, "RAH/1,1")).marks.grid == "RAH/22,64"
    assert service.paths == ["/gridpoints/RAH/1,1", "/points/36.1,-79.95", "/gridpoints/RAH/22,64"]


def test_nothing_new_is_told_as_such(serve: Serve) -> None:
    service = serve(lambda asked: asked.tell(b"", 304, Cache_Control="max-age=1200"))
    found = source(service).fetch(PLACE, Marks('"a"', None, "RAH/22,64"), NOW)
    assert found == Unchanged(timedelta(minutes=20))


@pytest.mark.parametrize(
    "body",
    [
        b"",
        b"<html>",
        b"[]",
        b"[" * 100_000,
        b'{"properties": 7}',
        b'{"properties": {"temperature": {"values": []}}}',
        grid(FIRST, temperature={"uom": "wmoUnit:degC", "values": "many"}),
        grid(
            FIRST,
            temperature={"uom": None, "values": [{"validTime": f"{FIRST.isoformat()}/PT1H", "value": 1}]},
        ),
        grid(FIRST, temperature={"uom": "wmoUnit:degC", "values": [7]}),
        grid(FIRST, temperature=layer("degC", (FIRST, "PT1H", True))),
        grid(FIRST, temperature=layer("degC", (FIRST, "P1M", 20))),
        grid(FIRST, temperature=layer("degC", (FIRST, "P90D", 20))),
        grid(FIRST, temperature=layer("degC", (FIRST, "PT0H", 20))),
        grid(FIRST, temperature=layer("degC", (FIRST, "PT1H", 900))),
        grid(
            FIRST,
            temperature={"uom": "wmoUnit:degC", "values": [{"validTime": "yesterday/PT1H", "value": 1}]},
        ),
        grid(FIRST, temperature={"uom": "wmoUnit:degC", "values": [{"value": 1}] * 5000}),
        grid(FIRST - timedelta(days=90)),
        b'{"properties": {"temperature": {"uom": "wmoUnit:degC", "values": [{"value": NaN}]}}}',
    ],
    ids=range(18),
)
def test_a_malformed_answer_is_a_reason_never_an_accident(serve: Serve, body: Any) -> None:
    assert why(serve, body)


@pytest.mark.parametrize(
    "changed", [{"gridId": "../x"}, {"gridX": -1}, {"gridX": True}, {"gridY": "7"}, {"gridId": None}]
)
def test_a_cell_is_never_taken_on_trust(serve: Serve, changed: dict[str, Any]) -> None:
    service = serve(lambda asked: asked.tell({"properties": POINT["properties"] | changed}))  # type: ignore[operator]
    with pytest.raises(SourceError, match="without a grid cell"):
        fetched(service)
