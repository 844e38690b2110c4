"""Looking back: who may, by what, and that the numbers are the jobs' own."""

import time
from collections.abc import Callable
from datetime import timedelta
from typing import Any

import pytest
from tests.conftest import Joined, iso
from tests.office.learned.closing import another, closed, marks, results
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.log.instants import read_instant
from slabtide.store.learned_tables import JobResult
from slabtide.store.session import write

LATER = FIRST_BATCH + timedelta(days=4)


def look(patio: Patio, who: Joined | None = None, **asked: str) -> dict[str, Any]:
    headers = (who or patio.foreman).headers
    answer = patio.client.get("/api/lookback", query_string=asked, headers=headers)
    assert answer.status_code == 200, answer.get_data(as_text=True)
    found: dict[str, Any] = answer.get_json()
    return found


def test_office_and_foreman_look_back_and_crew_does_not(patio: Patio, join: Callable[..., Joined]) -> None:
    assert look(patio)["jobs"] == 0
    assert look(patio, join("office"))["jobs"] == 0
    for address in ("/api/lookback", f"/api/jobs/{patio.job}/taught"):
        assert patio.client.get(address, headers=join("crew").headers).status_code == 403
        assert patio.client.get(address).status_code == 401


def test_errors_are_against_the_forecast_that_stood_at_placing(patio: Patio) -> None:
    closed(patio)
    placing = {
        row.what: row for row in marks(patio) if row.stage == "at_placing" and row.load == patio.loads[0]
    }
    last = {row.what: row for row in marks(patio) if row.stage == "last" and row.load == patio.loads[0]}
    opens = placing["texture"].opens
    assert opens is not None
    began = FIRST_BATCH + 200 * MINUTE
    error = (began - read_instant(opens["likely"])).total_seconds() / 60
    found = look(patio)["kept"]["texture_opens"]
    assert [point["error_min"] for point in found["points"]] == [round(error, 1)]
    assert found["all"]["inside"] == (read_instant(opens["early"]) <= began <= read_instant(opens["late"]))
    assert last["texture"].opens != opens, "the latest one knows the checks"


def test_one_pour_is_too_few_and_says_so(patio: Patio) -> None:
    closed(patio)
    found = look(patio)
    opens = found["kept"]["texture_opens"]["all"]
    assert (opens["pours"], opens["few"]) == (1, True)
    assert found["callbacks"]["few"]
    assert found["set_factor"][0]["known"]["pours"] == 1


def test_pace_is_area_by_people_and_hours_and_the_minutes_a_mat_took(patio: Patio) -> None:
    """26 m2 in 90 minutes by four people, three of them laying mats of 0.6 m2: 43.3 mats, 6.23 min a mat."""
    closed(patio)
    pace = look(patio)["pace"]
    assert pace["m2_per_person_hour"] == pytest.approx(26 / (4 * 1.5), abs=0.01)
    assert pace["lay_minutes"] == pytest.approx(3 * 90 / (26 / 0.6) - 0.5, abs=0.01)
    assert pace["lay_minutes_entered"] == 2.0


def test_callbacks_count_by_what_and_for_each_hundred_jobs(patio: Patio) -> None:
    closed(patio)
    second = another(patio)
    closed(second)
    for what in ("crack", "crack", "colour"):
        second.record("callback.noted", {"what": what}, LATER)
    second.tick(LATER)
    found = look(patio)["callbacks"]
    assert (found["jobs"], found["jobs_called_back"], found["per_100"]) == (2, 1, 150.0)
    assert [(one["what"], one["count"]) for one in found["by_what"]] == [("crack", 2), ("colour", 1)]


def test_waste_is_what_was_ordered_over_the_slab(patio: Patio) -> None:
    closed(patio)
    assert look(patio)["waste"]["over_percent"] == pytest.approx(100 * (6.4 / (52 * 0.115) - 1), abs=0.05)


ASKED: list[tuple[dict[str, str], int]] = [
    ({}, 2),
    ({"mix": "PATIO  MIX"}, 1),
    ({"plant": "quarry"}, 1),
    ({"mix": "Patio mix", "plant": "Quarry"}, 0),
    ({"month": "2026-07"}, 2),
    ({"month": "2026-06"}, 0),
    ({"from": "2026-07-14", "to": "2026-07-14"}, 2),
    ({"from": "2026-07-15"}, 0),
    ({"to": "2026-07-13"}, 0),
]


def test_it_can_be_asked_for_by_mix_plant_and_day(patio: Patio) -> None:
    closed(patio)
    closed(another(patio), name="Drive mix", plant="Quarry")
    found = [(asked, look(patio, **asked)) for asked, _ in ASKED]
    assert [(asked, answer["jobs"]) for asked, answer in found] == ASKED
    for _, answer in found:
        assert answer["choices"]["mixes"] == ["Drive mix", "Patio mix"]
        assert answer["choices"]["plants"] == ["Kettle Bend", "Quarry"]


@pytest.mark.parametrize(
    "asked",
    [{"month": "2026-13"}, {"from": "soon"}, {"from": "2026-07-02", "to": "2026-07-01"}, {"who": "x"}],
)
def test_a_choice_that_is_none_is_refused_by_name(patio: Patio, asked: dict[str, str]) -> None:
    answer = patio.client.get("/api/lookback", query_string=asked, headers=patio.foreman.headers)
    assert answer.status_code == 400
    assert answer.get_json()["error"]["path"] in asked


def test_what_a_pour_taught_is_told_before_and_after(patio: Patio) -> None:
    closed(patio)
    second = another(patio)
    closed(second, days=1)
    answer = patio.client.get(f"/api/jobs/{second.job}/taught", headers=patio.foreman.headers).get_json()
    assert (answer["before"]["pours"], answer["after"]["pours"]) == (1, 2)
    assert answer["after"]["doubt_percent"] < answer["before"]["doubt_percent"] < answer["book_doubt_percent"]
    assert answer["told"]["percent"] > 0
    missing = patio.client.get("/api/jobs/nowhere/taught", headers=patio.foreman.headers)
    assert missing.status_code == 404


def test_three_thousand_jobs_are_read_in_seconds(patio: Patio) -> None:
    closed(patio)
    row = results(patio)[patio.job]
    names = [column.name for column in JobResult.__table__.columns if column.name != "job"]
    same = {name: getattr(row, name) for name in names}
    with patio.app.app_context(), write() as session:
        session.add_all(JobResult(**same, job=f"job {n}") for n in range(3000))
    begins = time.perf_counter()
    found = look(patio)
    took_s = time.perf_counter() - begins
    print(f"3,001 jobs in {took_s:.2f} s")
    assert found["jobs"] == 3001
    assert took_s < 5  # about 1 s of one core that others share


def test_a_forecast_heard_late_is_worked_out_as_of_placing(patio: Patio) -> None:
    """The phone was out of reach all day: the server first looks in the evening, with the checks all in."""
    closed(patio)
    late = [row for row in marks(patio) if row.stage == "at_placing"]
    assert {row.afterwards for row in late} == {True}
    assert {row.made_at for row in late} == {FIRST_BATCH + minutes * MINUTE for minutes in (60, 105)}


def test_a_forecast_heard_at_once_is_the_one_that_stood(patio: Patio) -> None:
    patio.open(), patio.outline(), patio.order(), patio.crew(), patio.typical_year()
    patio.ticket(1)
    patio.tick(FIRST_BATCH + 10 * MINUTE)
    patio.place(1)
    patio.tick(FIRST_BATCH + 62 * MINUTE)
    told = patio.mine()["timeline"]["loads"][0]["windows"]["texture"]["opens"]
    patio.record(
        "check.made", {"load": patio.loads[0], "kind": "footprint", "depth_mm": 14}, FIRST_BATCH + 3 * HOUR
    )
    patio.tick(FIRST_BATCH + 3 * HOUR)
    found = {row.stage: row for row in marks(patio) if row.what == "texture"}
    assert (found["at_placing"].opens, found["at_placing"].afterwards) == (told, False)
    assert found["first"].made_at == FIRST_BATCH + 10 * MINUTE
    assert found["last"].opens not in (told, found["first"].opens)


def test_a_placing_told_anew_makes_its_forecast_anew(patio: Patio) -> None:
    patio.poured()
    patio.tick(FIRST_BATCH + 2 * HOUR)
    before = {row.made_at for row in marks(patio) if row.stage == "at_placing" and row.load == patio.loads[0]}
    begins = FIRST_BATCH + 50 * MINUTE
    body = {"load": patio.loads[0], "from": iso(begins), "to": iso(begins + 20 * MINUTE), "area_m2": 26}
    patio.record("load.placed", body, begins)
    patio.tick(FIRST_BATCH + 2 * HOUR + MINUTE)
    after = {row.made_at for row in marks(patio) if row.stage == "at_placing" and row.load == patio.loads[0]}
    assert (before, after) == ({FIRST_BATCH + 60 * MINUTE}, {begins + 20 * MINUTE})
