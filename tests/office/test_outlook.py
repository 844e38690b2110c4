"""The outlook says what the slab will do, or what is missing to say it; and never falls silent."""

from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import pytest
from flask.testing import FlaskClient
from sqlalchemy import select
from tests.conftest import Joined
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.log.instants import read_instant
from slabtide.office import working
from slabtide.people.companies import create_company
from slabtide.reminders import worker
from slabtide.store.jobs import mark_dirty
from slabtide.store.session import write
from slabtide.store.tables import WeatherHour

NOON = FIRST_BATCH + 5 * HOUR


def test_what_is_missing_is_said_one_step_after_another(patio: Patio) -> None:
    said = []
    for step in (
        patio.open,
        patio.outline,
        patio.order,
        lambda: patio.days("2026-07-14", "2026-07-15", "2026-07-16"),
    ):
        step()
        patio.tick(FIRST_BATCH - 20 * HOUR)
        problem = patio.mine()["problem"]
        said.append(problem and problem["code"])
    assert said == ["slab_missing", "order_missing", "weather_missing", None]


def test_a_problem_says_what_to_do(patio: Patio) -> None:
    patio.open()
    patio.outline()
    patio.order()
    patio.tick(FIRST_BATCH - 20 * HOUR)
    assert patio.mine()["problem"] == {
        "code": "weather_missing",
        "message": "There is no weather for Tuesday, July 14.",
        "do": "Enter low and high for Tuesday.",
        "params": {"day": "2026-07-14"},
    }


def test_before_a_load_is_placed_the_ordered_loads_are_planned_and_said_to_be(patio: Patio) -> None:
    patio.open()
    patio.outline()
    patio.order()
    patio.days("2026-07-14", "2026-07-15", "2026-07-16")
    patio.tick(FIRST_BATCH - 20 * HOUR)
    mine = patio.mine()
    assert mine["planned"] is True
    assert [load["id"] for load in mine["timeline"]["loads"]] == ["planned-1", "planned-2"]
    assert mine["weather"]["source"] == "hand"
    assert "Planned: 2 equal loads, 45 min apart." in mine["assumptions"]
    assert patio.outlook()["reminders"] == []


def test_placed_loads_take_the_place_of_planned_ones(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    mine = patio.mine()
    assert mine["planned"] is False
    assert [load["id"] for load in mine["timeline"]["loads"]] == list(patio.loads)
    assert mine["problem"] is None
    assert mine["weather"]["label"] == "Greensboro Piedmont Triad Int, typical year (TMY3)"


def test_a_load_without_a_temperature_is_taken_as_the_air_and_two_degrees(patio: Patio) -> None:
    patio.open()
    patio.outline()
    patio.ticket(1, temp_c=None)
    patio.typical_year()
    patio.tick(NOON)
    said = patio.mine()["assumptions"]
    assert "Load 1: concrete is taken 2 °C (4 °F) warmer than the air at batching." in said
    assert "Load 1: placing is taken to start 30 min after batching." in said


def test_weather_that_ends_early_gives_times_and_names_the_day_to_enter(patio: Patio) -> None:
    patio.open()
    patio.outline()
    patio.order()
    patio.days("2026-07-14")
    patio.tick(FIRST_BATCH - 20 * HOUR)
    mine = patio.mine()
    assert mine["timeline"] is not None
    assert mine["problem"]["code"] == "weather_short"
    assert mine["problem"]["do"] == "Enter low and high for Wednesday."


def test_readings_at_the_slab_are_worked_in_and_counted(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    before = patio.mine()["timeline"]["loads"][0]["windows"]["saw"]
    patio.record("weather.noted", {"air_temp_c": 36}, FIRST_BATCH + 1 * HOUR)
    patio.tick(NOON)
    mine = patio.mine()
    assert mine["weather"]["noted"] == 1
    after = mine["timeline"]["loads"][0]["windows"]["saw"]
    assert read_instant(after["opens"]["likely"]) < read_instant(before["opens"]["likely"])


def test_a_wrong_ticket_is_told_in_words_and_the_last_good_times_stay(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    good = patio.mine()["timeline"]
    batched = {"load": patio.loads[1], "number": 2, "batched_at": "2026-07-14T20:00:00.000Z", "volume_m3": 3}
    patio.record("load.ticketed", batched, NOON)
    patio.tick(NOON + MINUTE)
    mine = patio.mine()
    assert mine["problem"]["code"] == "load_wrong"
    assert mine["problem"]["message"].startswith("Load 2, start of placing: before batch time")
    assert "The times shown were computed at 2026-07-14T15:30:00.000Z." in mine["problem"]["message"]
    assert mine["problem"]["do"] == "Correct the ticket and the placing times of load 2."
    assert mine["timeline"] == good
    assert {row.state for row in patio.reminders().values()} == {"planned"}


def test_a_bad_job_is_marked_and_the_others_go_on(
    patio: Patio, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    patio.poured()
    other = Patio(patio.app, patio.client, patio.sync, patio.foreman)
    other.poured()
    real = working.forecast

    def forecast(pour: Any, at: datetime, *more: Any) -> Any:
        if pour.loads[0].id == patio.loads[0]:
            raise ZeroDivisionError("the engine tripped")
        return real(pour, at, *more)

    monkeypatch.setattr(working, "forecast", forecast)
    report = patio.tick(NOON)
    assert (report.recomputed, report.failed_jobs) == (2, 0)
    assert patio.mine()["problem"]["code"] == "engine_failed"
    assert other.mine()["timeline"] is not None
    assert "the engine tripped" in caplog.text


def test_a_job_that_breaks_the_worker_is_logged_put_off_and_the_others_go_on(
    patio: Patio, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    patio.poured()
    other = Patio(patio.app, patio.client, patio.sync, patio.foreman)
    other.poured()
    real = worker.compute

    def compute(session: Any, company: str, job: str, now: datetime) -> Any:
        if job == patio.job:
            raise RuntimeError("a row that can't be")
        return real(session, company, job, now)

    monkeypatch.setattr(worker, "compute", compute)
    assert patio.tick(NOON).failed_jobs == 1
    assert other.mine()["timeline"] is not None
    assert "a row that can't be" in caplog.text
    assert patio.tick(NOON + MINUTE / 2).recomputed == 0
    assert patio.tick(NOON + 2 * MINUTE).failed_jobs == 1


def test_the_same_input_is_not_computed_twice(patio: Patio, monkeypatch: pytest.MonkeyPatch) -> None:
    patio.poured()
    patio.tick(NOON)
    before = patio.mine()
    patio.record("note.written", {"text": "Windy corner"}, NOON)
    monkeypatch.setattr(working, "forecast", None)
    assert patio.tick(NOON + MINUTE).failed_jobs == 0
    assert patio.mine() == before


def test_a_phone_that_has_the_outlook_gets_304_until_something_changes(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    headers = patio.foreman.headers
    first = patio.client.get("/api/outlook", headers=headers)
    mark = {"If-None-Match": first.headers["ETag"]}
    again = patio.client.get("/api/outlook", headers=headers | mark)
    assert (again.status_code, again.data) == (304, b"")
    patio.tick(NOON + MINUTE)
    assert patio.client.get("/api/outlook", headers=headers | mark).status_code == 304
    patio.record("check.made", {"load": patio.loads[0], "kind": "footprint", "depth_mm": 4}, NOON)
    patio.tick(NOON + 2 * MINUTE)
    assert patio.client.get("/api/outlook", headers=headers | mark).status_code == 200


def test_the_outlook_is_packed_for_those_who_can_unpack_it(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    plain = patio.client.get("/api/outlook", headers=patio.foreman.headers)
    packed = patio.client.get("/api/outlook", headers=patio.foreman.headers | {"Accept-Encoding": "gzip"})
    assert packed.headers["Content-Encoding"] == "gzip"
    print(f"outlook of one job: {len(plain.data)} bytes, packed {len(packed.data)}")
    assert len(packed.data) < len(plain.data) / 3


def test_the_outlook_says_who_one_is_and_who_else_there_is(patio: Patio, join: Callable[..., Joined]) -> None:
    join("crew", name="Luis")
    found = patio.outlook()
    assert found["me"] == {
        "person": patio.foreman.person,
        "name": "Ana",
        "role": "foreman",
        "device": patio.foreman.device,
        "language": "en",
    }
    assert [person["name"] for person in found["people"]] == ["Ana", "Luis"]
    assert found["company"]["name"] == "Harbor Flatwork"


def test_a_closed_job_leaves_the_outlook(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    patio.record("job.closed", {"outcome": "Accepted"}, NOON)
    patio.tick(NOON + timedelta(seconds=2))
    assert patio.outlook()["jobs"] == {}


def test_another_company_sees_nothing(patio: Patio, join: Callable[..., Joined], client: FlaskClient) -> None:
    patio.poured()
    patio.tick(NOON)
    with patio.app.app_context():
        elsewhere = create_company("Elsewhere Slabs")
    stranger = join("foreman", company=elsewhere)
    found = client.get("/api/outlook", headers=stranger.headers).get_json()
    assert (found["jobs"], found["reminders"], len(found["people"])) == ({}, [], 1)
    assert client.get("/api/board", headers=stranger.headers).get_json()["jobs"] == []


def test_the_hours_a_phone_computes_with_come_along(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    hours = patio.mine()["weather"]["hours"]
    assert read_instant(hours["from"]) <= FIRST_BATCH - 24 * HOUR
    assert len(hours["air_temp_c"]) == len(hours["rain_mm"]) >= 24 + 120 + 24
    assert hours["label"] == patio.mine()["weather"]["label"]


def test_new_hours_reach_the_phone_also_where_no_time_changes(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    before = patio.mine()
    at = before["weather"]["hours"]["from"]
    with patio.app.app_context(), write() as session:
        row = session.scalars(
            select(WeatherHour).where(WeatherHour.at == read_instant(at), WeatherHour.place == patio.job)
        ).one()
        row.air_temp_c = 4.5
        mark_dirty(session, patio.foreman.company, patio.job, NOON)
    patio.tick(NOON + MINUTE)
    after = patio.mine()
    assert after["weather"]["hours"]["air_temp_c"][0] == 4.5
    assert after["timeline"] == before["timeline"]
    assert after["computed_at"] != before["computed_at"], "or its mark would stay, and with it a 304"
