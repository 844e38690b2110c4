"""The worldwide forecast: lists by quantity, units named beside them."""

from datetime import UTC, datetime, timedelta
from typing import Any
from urllib.parse import parse_qs, urlsplit

import pytest
from tests.weather.sources.conftest import Serve, web_for
from tests.weather.sources.service import HOUR, at_noon, lists

from slabtide.weather.sources.contract import Forecast, Marks, Place, SourceError, Unchanged
from slabtide.weather.sources.worldwide import Worldwide

PLACE = Place.near(48.2, 16.37)
NOW = at_noon()
FIRST = NOW - 36 * HOUR


def fetched(serve: Serve, body: Any, now: datetime = NOW) -> Forecast:
    service = serve(lambda asked: asked.tell(body, packed=True))
    found = Worldwide(web_for(service), f"{service.address}/v1/forecast").fetch(PLACE, Marks(), now)
    assert isinstance(found, Forecast)
    return found


def test_the_question_names_place_quantities_and_a_clock_without_summer_time(serve: Serve) -> None:
    service = serve(lambda asked: asked.tell(lists(FIRST)))
    Worldwide(web_for(service), f"{service.address}/v1/forecast").fetch(PLACE, Marks(), NOW)
    asked = urlsplit(service.paths[0])
    values = parse_qs(asked.query)
    assert asked.path == "/v1/forecast"
    assert (values["latitude"], values["longitude"]) == (["48.20"], ["16.37"])
    assert (values["timezone"], values["timeformat"]) == (["GMT"], ["unixtime"])
    assert "shortwave_radiation" in values["hourly"][0].split(",")


def test_means_and_sums_of_the_hour_before_are_laid_where_the_engine_wants_them(serve: Serve) -> None:
    sun, rain = [0.0] * 240, [0.0] * 240
    sun[10], sun[11], rain[10] = 200.0, 400.0, 1.5
    hours = fetched(serve, lists(FIRST, shortwave_radiation=sun, precipitation=rain)).hours
    assert (hours[9].solar_w_m2, hours[10].solar_w_m2, hours[11].solar_w_m2) == (100.0, 300.0, 200.0)
    assert (hours[9].rain_mm, hours[10].rain_mm) == (1.5, 0.0), "rain of the hour that begins then"


def test_other_units_are_turned(serve: Serve) -> None:
    body = lists(
        FIRST,
        temperature_2m=[68.0] * 240,
        temperature_2m_unit="°F",
        wind_speed_10m=[10.0] * 240,
        wind_speed_10m_unit="mp/h",
        precipitation=[0.1] * 240,
        precipitation_unit="inch",
    )
    hour = fetched(serve, body).hours[0]
    assert (hour.air_temp_c, hour.wind_kmh, hour.rain_mm) == (20.0, 16.09, 2.54)


def test_local_times_are_read_by_the_offset_beside_them(serve: Serve) -> None:
    body = lists(FIRST, 48)
    local = [(FIRST + 2 * HOUR + i * HOUR).strftime("%Y-%m-%dT%H:%M") for i in range(48)]
    body["hourly"]["time"], body["utc_offset_seconds"] = local, 7200
    assert fetched(serve, body).hours[0].at == FIRST


@pytest.mark.parametrize("day", [datetime(2026, 3, 29, tzinfo=UTC), datetime(2026, 10, 25, tzinfo=UTC)])
def test_days_on_which_clocks_change_have_all_their_hours_once(serve: Serve, day: datetime) -> None:
    hours = fetched(serve, lists(day, 48), day + 12 * HOUR).hours
    assert [hour.at for hour in hours] == [day + i * HOUR for i in range(48)]


def test_what_it_leaves_out_is_worked_out_and_named(serve: Serve) -> None:
    body = lists(FIRST, shortwave_radiation=None, cloud_cover=[None] * 240)
    found = fetched(serve, body)
    assert found.derived == (
        "sun worked out from its height and the cloud",
        "cloud taken as half where it is not given",
    )
    assert max(hour.solar_w_m2 for hour in found.hours) > 500


def test_what_the_engine_could_not_use_is_cut_to_what_it_can(serve: Serve) -> None:
    far = fetched(serve, lists(NOW - timedelta(days=10), 24 * 32)).hours
    assert far[0].at >= NOW - timedelta(days=3)
    assert far[-1].at <= NOW + timedelta(days=16)
    damp = fetched(serve, lists(FIRST, relative_humidity_2m=[101] * 240)).hours[0]
    assert damp.rh == 1.0


def test_nothing_new_is_told_as_such(serve: Serve) -> None:
    service = serve(lambda asked: asked.tell(b"", 304))
    source = Worldwide(web_for(service), service.address)
    assert source.fetch(PLACE, Marks('"x"'), NOW) == Unchanged(timedelta(hours=1))


@pytest.mark.parametrize(
    "body",
    [
        {"error": True, "reason": "Daily API request limit exceeded."},
        {},
        {"hourly": {}, "hourly_units": {}},
        lists(FIRST, 0),
        lists(FIRST, time=["soon"] * 240),
        lists(FIRST, time=[10**18] * 240),
        lists(FIRST, time=[None] * 240),
        lists(FIRST, time=[int(FIRST.timestamp()) + 60 + 3600 * i for i in range(240)]),
        lists(FIRST, temperature_2m=[20.0] * 3),
        lists(FIRST, temperature_2m=["warm"] * 240),
        lists(FIRST, temperature_2m=[None] * 240),
        lists(FIRST, temperature_2m=[293.0] * 240),
        lists(FIRST, temperature_2m_unit="°Ré"),
        lists(FIRST, wind_speed_10m=None),
        lists(FIRST, 24 * 40),
    ],
    ids=range(15),
)
def test_a_malformed_answer_is_a_reason_never_an_accident(serve: Serve, body: Any) -> None:
    with pytest.raises(SourceError):
        fetched(serve, body)
