"""What-if and advice, by HTTP and on the phone: same answers, quickly, and words where none can be had."""

import time
from collections.abc import Callable
from datetime import datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import select
from tests.conftest import Joined
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.log.fold import fold
from slabtide.log.instants import write_instant
from slabtide.log.view import view_job
from slabtide.office.decide.asked import advice_of, what_if_of
from slabtide.office.stored_weather import stored_hours
from slabtide.people.companies import create_company
from slabtide.phone.work import decide
from slabtide.store.session import read
from slabtide.store.tables import Event

EVENING_BEFORE = FIRST_BATCH - 10 * HOUR


def ask(patio: Patio, now: datetime, changes: object = None) -> dict[str, Any]:
    with patio.app.app_context(), read() as session:
        view = view_job(fold(session.scalars(select(Event).where(Event.job == patio.job)), patio.job))

        def stored(start: datetime, end: datetime) -> Any:
            return stored_hours(session, patio.foreman.company, patio.job, start, end)

        return advice_of(view, stored, now) if changes is None else what_if_of(view, stored, now, changes)


@pytest.fixture
def ordered(patio: Patio) -> Patio:
    patio.open()
    patio.outline()
    patio.order()
    patio.crew()
    mild = {"low_c": 12, "high_c": 21, "rh": 0.7, "wind_kmh": 6, "cloud": 0.5}
    dates = [f"2026-07-{day}" for day in range(13, 22)]
    patio.record("weather.planned", {"days": [{"date": date, **mild} for date in dates]})
    return patio


def test_one_more_hand_leaves_the_windows_and_betters_the_odds(ordered: Patio) -> None:
    found = ask(ordered, EVENING_BEFORE, [{"change": "people", "people": 6}])
    answer = found["answer"]
    assert found["problem"] is None
    assert [load["number"] for load in found["loads"]] == [1, 2]
    assert answer["loads"][0]["windows"]["texture"]["closes_later_minutes"] == 0
    assert answer["pace"]["after"]["chance_to_miss"] <= answer["pace"]["before"]["chance_to_miss"]


def test_a_retarder_in_a_load_still_to_come_can_be_tried_while_the_first_is_placed(ordered: Patio) -> None:
    ordered.ticket(1)
    ordered.place(1)
    now = FIRST_BATCH + 61 * MINUTE
    found = ask(ordered, now, [{"change": "retarder", "load": "planned-2", "type": "D", "dose": 0.5}])
    assert found["problem"] is None
    assert [load["batched"] for load in found["loads"]] == [True, False]
    later = [load["windows"]["texture"]["closes_later_minutes"] for load in found["answer"]["loads"]]
    assert later[0] == 0
    assert later[1] > 5


def test_trying_on_answers_as_asking_anew_does_and_sooner(ordered: Patio) -> None:
    """The pour as it stands is worked out once a minute; another minute, or another pour, anew."""
    more = [{"change": "people", "people": 6}]
    first = ask(ordered, EVENING_BEFORE, more)
    began = time.process_time()
    again = ask(ordered, EVENING_BEFORE + timedelta(seconds=20), more)
    between = time.process_time()
    later = ask(ordered, EVENING_BEFORE + 2 * MINUTE, more)
    assert again["answer"] == first["answer"]
    assert later["answer"]["at"] != first["answer"]["at"]
    assert between - began < time.process_time() - between
    ordered.record("crew.assigned", {"people": 9, "mats": 8, "mat_area_m2": 0.6, "lay_minutes": 2.0})
    other = ask(ordered, EVENING_BEFORE + 2 * MINUTE, more)["answer"]["pace"]["before"]
    assert other["model"]["hands"] == 8


def test_a_change_that_comes_too_late_says_so(ordered: Patio) -> None:
    ordered.ticket(1)
    ordered.place(1)
    change = {"change": "retarder", "load": ordered.loads[0], "type": "D", "dose": 0.5}
    problem = ask(ordered, FIRST_BATCH + 61 * MINUTE, [change])["problem"]
    assert problem["code"] == "change_wrong"
    assert "batched already" in problem["message"]


def test_advice_tries_the_pour_day_and_the_next_and_never_an_hour_gone(ordered: Patio) -> None:
    now = FIRST_BATCH - HOUR
    answer = ask(ordered, now)["answer"]
    starts = [datetime.fromisoformat(hour["start"]) for hour in answer["hours"]]
    assert {start.date().isoformat() for start in starts} == {"2026-07-14", "2026-07-15"}
    assert min(starts) > now
    assert [hour["rank"] for hour in answer["hours"]] == list(range(1, len(starts) + 1))


def test_advice_has_no_say_once_concrete_is_placed(patio: Patio) -> None:
    found = ask(patio.poured(), FIRST_BATCH + 3 * HOUR)
    assert (found["answer"], found["problem"]["code"]) == (None, "poured_already")


@pytest.mark.parametrize("changes", [None, [{"change": "people", "people": 5}]])
def test_what_is_missing_is_said_and_what_to_do(patio: Patio, changes: object) -> None:
    patio.open()
    patio.outline()
    assert ask(patio, EVENING_BEFORE, changes)["problem"]["code"] == "order_missing"
    patio.order()
    problem = ask(patio, EVENING_BEFORE, changes)["problem"]
    assert problem["code"] == "weather_missing"
    assert problem["do"]


def test_a_phone_answers_as_the_server_does(ordered: Patio) -> None:
    ordered.tick(EVENING_BEFORE)
    with ordered.app.app_context(), read() as session:
        state = fold(session.scalars(select(Event).where(Event.job == ordered.job)), ordered.job)
    asked = {
        "now": write_instant(EVENING_BEFORE),
        "state": state,
        "hours": ordered.mine()["weather"]["hours"],
    }
    changes = [{"change": "start_shift", "minutes": -60}]
    assert decide(asked | {"decide": "advice"}) == ask(ordered, EVENING_BEFORE)
    assert decide(asked | {"decide": "what_if", "changes": changes}) == ask(ordered, EVENING_BEFORE, changes)


def test_answers_come_while_someone_waits(ordered: Patio) -> None:
    """Under a second for a what-if, under two for advice (CPU time of this process)."""
    began = time.process_time()
    ask(ordered, EVENING_BEFORE, [{"change": "people", "people": 5}])
    between = time.process_time()
    ask(ordered, EVENING_BEFORE)
    assert between - began < 1.0
    assert time.process_time() - between < 2.0


def test_the_routes_answer_the_foreman_and_refuse_what_is_no_list(ordered: Patio) -> None:
    path = f"/api/jobs/{ordered.job}"
    asked = ordered.client.post(f"{path}/what-if", json={"changes": []}, headers=ordered.foreman.headers)
    assert asked.get_json()["crew"] == {"people": 4, "mats": 8}
    wrong = ordered.client.post(f"{path}/what-if", json={"changes": {}}, headers=ordered.foreman.headers)
    assert wrong.status_code == 400
    assert "problem" in ordered.client.get(f"{path}/advice", headers=ordered.foreman.headers).get_json()


def test_another_companys_job_is_not_there(ordered: Patio, join: Callable[..., Joined]) -> None:
    with ordered.app.app_context():
        stranger = join("foreman", company=create_company("Elsewhere Slabs"))
    path = f"/api/jobs/{ordered.job}/advice"
    assert ordered.client.get(path, headers=stranger.headers).status_code == 404
