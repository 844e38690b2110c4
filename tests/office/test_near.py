"""A phone carries the jobs it needs, not the company's thousands; the others come on request."""

import uuid
from collections.abc import Callable
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from flask.testing import FlaskClient
from hypothesis import given
from hypothesis import strategies as st
from tests.conftest import Joined, Syncs, iso
from tests.office.scene import PLACE, Patio

from slabtide.office import near
from slabtide.office.near import MOST_KEPT, MOST_NEAR, MOST_OWN, nearest
from slabtide.reminders import worker

NOW = datetime(2026, 7, 14, 12, tzinfo=UTC)
DAY = timedelta(days=1)
PHONE, OTHER = "my phone", "another phone"


@dataclass(frozen=True)
class Row:
    """What the choice reads of a job."""

    job: str
    pour_at: datetime | None = None
    devices: tuple[str, ...] = ()
    due: datetime | None = None
    closes: datetime | None = None
    unmade: bool = False


def rows(count: int, begins: int = 0, devices: tuple[str, ...] = (OTHER,)) -> list[Row]:
    """A job poured on each of so many days from `begins` on."""
    return [Row(f"{begins}/{n}", NOW + (begins + n) * DAY, devices) for n in range(count)]


def test_those_nearest_in_time_are_carried() -> None:
    far, close = rows(200, 100), rows(MOST_NEAR, -MOST_NEAR // 2)
    assert set(nearest(far + close, frozenset({PHONE}), NOW)) == {row.job for row in close}


def test_the_persons_own_jobs_go_before_nearer_ones_of_others() -> None:
    own, others = rows(5, 20, (OTHER, PHONE)), rows(MOST_NEAR, 0)
    found = nearest(others + own, frozenset({PHONE}), NOW)
    assert found[:5] == [row.job for row in own]
    assert found[5:] == [row.job for row in others[: MOST_NEAR - 5]]


def test_old_jobs_of_ones_own_never_crowd_out_tomorrows_pour() -> None:
    own, tomorrow = rows(100, -100, (PHONE,)), Row("tomorrow", NOW + DAY, (OTHER,))
    found = nearest([*own, tomorrow], frozenset({PHONE}), NOW)
    assert "tomorrow" in found
    assert len(found) == MOST_NEAR
    assert sum(row.job in found for row in own) >= MOST_OWN


def test_a_job_just_begun_is_carried_before_its_row_is_made() -> None:
    begun = Row("begun", unmade=True)
    assert "begun" in nearest([*rows(300), begun], frozenset(), NOW)


def test_work_that_is_due_keeps_an_old_pour_near() -> None:
    due = Row("due", NOW - 200 * DAY, due=NOW + timedelta(hours=1))
    assert "due" in nearest([*rows(300, 1), due], frozenset(), NOW)


moments = st.none() | st.integers(-400, 400).map(lambda days: NOW + days * DAY)
jobs = st.builds(
    Row,
    job=st.uuids().map(str),
    pour_at=moments,
    devices=st.sampled_from([(), (PHONE,), (OTHER,), (OTHER, PHONE)]),
    due=moments,
    closes=moments,
    unmade=st.booleans(),
)


@given(st.lists(jobs, max_size=120, unique_by=lambda row: row.job), st.randoms())
def test_the_choice_is_full_has_no_job_twice_and_hangs_on_no_order(some: list[Row], chance: Any) -> None:
    found = nearest(some, frozenset({PHONE}), NOW)
    shuffled = list(some)
    chance.shuffle(shuffled)
    assert len(found) == len(set(found)) == min(len(some), MOST_NEAR)
    assert nearest(shuffled, frozenset({PHONE}), NOW) == found


@pytest.fixture
def few(monkeypatch: pytest.MonkeyPatch) -> None:
    """Two jobs are carried, so that a test needs only four."""
    monkeypatch.setattr(near, "MOST_NEAR", 2)
    monkeypatch.setattr(near, "MOST_OWN", 1)


@pytest.fixture
def four(patio: Patio) -> list[str]:
    """Four open jobs of the foreman's, poured two days after one another from now on."""
    found = [str(uuid.uuid4()) for _ in range(4)]
    for number, job in enumerate(found):
        body = {"name": f"Quarry walk {number}", "place": f"{number} Mill Row", "use": "walk", **PLACE}
        patio.sync.record(patio.foreman, job, "job.opened", body)
        pour = iso(datetime.now(UTC) + number * 2 * DAY)
        patio.sync.record(patio.foreman, job, "order.placed", {"volume_m3": 5, "loads": 1, "pour_at": pour})
    worker.tick(patio.app, datetime.now(UTC))
    return found


def get(client: FlaskClient, who: Joined, path: str, **headers: str) -> Any:
    return client.get(path, headers={**who.headers, **headers})


def test_without_being_asked_the_outlook_tells_of_every_open_job(
    few: None, four: list[str], patio: Patio
) -> None:
    found = patio.outlook()
    assert set(found["jobs"]) == set(found["carried"]) == set(four)
    assert found["left_out"] == 0


def test_asked_for_the_near_ones_it_tells_of_those_and_of_those_kept(
    few: None, four: list[str], patio: Patio, client: FlaskClient
) -> None:
    found = get(client, patio.foreman, "/api/outlook?near=1").get_json()
    assert set(found["jobs"]) == set(found["carried"]) == set(four[:2])
    assert found["left_out"] == 2
    kept = get(client, patio.foreman, f"/api/outlook?near=1&keep={four[3]}").get_json()
    assert set(kept["carried"]) == {*four[:2], four[3]}
    assert kept["left_out"] == 1


def test_a_closed_job_is_carried_only_while_it_is_kept(
    few: None, four: list[str], patio: Patio, client: FlaskClient
) -> None:
    patio.sync.record(patio.foreman, four[0], "job.closed", {})
    worker.tick(patio.app, datetime.now(UTC))
    found = get(client, patio.foreman, "/api/outlook?near=1").get_json()
    assert four[0] not in found["carried"]
    assert found["left_out"] == 1
    kept = get(client, patio.foreman, f"/api/outlook?near=1&keep={four[0]}").get_json()
    assert four[0] in kept["carried"]


def test_the_near_outlook_is_sent_once_and_again_when_a_kept_job_changes_it(
    few: None, four: list[str], patio: Patio, client: FlaskClient
) -> None:
    first = get(client, patio.foreman, "/api/outlook?near=1")
    tag = {"If-None-Match": first.headers["ETag"]}
    assert get(client, patio.foreman, "/api/outlook?near=1", **tag).status_code == 304
    assert get(client, patio.foreman, f"/api/outlook?near=1&keep={four[3]}", **tag).status_code == 200


@pytest.mark.parametrize(
    "wrong", ["near=2", "near=1&keep=nothing", "keep=" + ",".join(str(uuid.uuid4()) for _ in range(101))]
)
def test_what_the_address_asks_wrongly_is_named(
    client: FlaskClient, join: Callable[..., Joined], wrong: str
) -> None:
    assert MOST_KEPT == 100
    answer = get(client, join("crew"), f"/api/outlook?{wrong}")
    assert answer.status_code == 400
    assert answer.get_json()["error"]["code"] == "malformed"


def test_one_job_on_request_is_told_as_the_outlook_tells_it(
    four: list[str], patio: Patio, client: FlaskClient, join: Callable[..., Joined]
) -> None:
    whole = patio.outlook()
    answer = get(client, join("crew"), f"/api/jobs/{four[3]}/outlook")
    found = answer.get_json()
    assert found["outlook"] == whole["jobs"][four[3]]
    assert found["reminders"] == [one for one in whole["reminders"] if one["job"] == four[3]]
    tag = {"If-None-Match": answer.headers["ETag"]}
    assert get(client, patio.foreman, f"/api/jobs/{four[3]}/outlook", **tag).status_code == 304


def test_another_companys_job_is_unknown(
    four: list[str], client: FlaskClient, join: Callable[..., Joined], app: Any
) -> None:
    from slabtide.people.companies import create_company

    with app.app_context():
        theirs = create_company("Ridge Flatwork")
    stranger = join("foreman", company=theirs)
    assert get(client, stranger, f"/api/jobs/{four[0]}/outlook").status_code == 404
    assert get(client, stranger, f"/api/jobs/{four[0]}/events").get_json()["events"] == []
    assert get(client, stranger, "/api/jobs").get_json() == {"version": 1, "jobs": [], "total": 0}
    kept = get(client, stranger, f"/api/outlook?near=1&keep={four[0]}").get_json()
    assert kept["carried"] == []


def test_a_job_that_is_not_carried_is_found_by_its_name_or_place(
    four: list[str], client: FlaskClient, join: Callable[..., Joined]
) -> None:
    crew = join("crew")
    found = get(client, crew, "/api/jobs?search=3%20mill%20ROW").get_json()
    assert [job["job"] for job in found["jobs"]] == [four[3]]
    assert found["jobs"][0]["place"] == "3 Mill Row"
    all_of_them = get(client, crew, "/api/jobs?limit=3").get_json()
    assert (len(all_of_them["jobs"]), all_of_them["total"]) == (3, 4)
    assert get(client, crew, "/api/jobs?search=%25").get_json()["total"] == 0


def test_a_phone_that_carries_some_jobs_reads_those_alone_and_loses_nothing_when_it_takes_one_on(
    four: list[str], patio: Patio, sync: Syncs, client: FlaskClient, join: Callable[..., Joined]
) -> None:
    """The whole way a phone goes: the near ones, another one taken on, entries of both meanwhile."""
    phone = join("crew")
    mine: dict[str, dict[str, Any]] = {}

    def keep(events: list[dict[str, Any]]) -> None:
        mine.update({event["id"]: event for event in events})

    def take_on(job: str) -> None:
        after, more = 0, True
        while more:
            page = get(client, phone, f"/api/jobs/{job}/events?after={after}&limit=1").get_json()
            keep(page["events"])
            after, more = page["cursor"], page["more"]

    held = [four[0]]
    take_on(four[0])
    keep(sync(phone, held=held)["events"])
    patio.sync.record(patio.foreman, four[0], "note.written", {"text": "Fogged."})
    patio.sync.record(patio.foreman, four[1], "note.written", {"text": "Covered."})
    keep(sync(phone, held=held)["events"])
    assert {event["job"] for event in mine.values()} == {four[0]}
    take_on(four[1])
    held.append(four[1])
    patio.sync.record(patio.foreman, four[1], "note.written", {"text": "Uncovered."})
    keep(sync(phone, held=held)["events"])
    whole = [event for event in sync(join("office"))["events"] if event["job"] in held]
    assert sorted(mine) == sorted(event["id"] for event in whole)
    assert [mine[event["id"]] for event in whole] == whole


def test_pages_of_the_held_jobs_leave_none_out(
    four: list[str], patio: Patio, sync: Syncs, join: Callable[..., Joined]
) -> None:
    phone, got, cursor, more = join("crew"), [], 0, True
    while more:
        body = {"cursor": cursor, "events": [], "device_time": iso(datetime.now(UTC)), "held": four[1:3]}
        page = sync.client.post("/api/sync?limit=1", json=body, headers=phone.headers).get_json()
        got += page["events"]
        cursor, more = page["cursor"], page["more"]
    assert [event["job"] for event in got] == [four[1], four[1], four[2], four[2]]
    assert cursor == sync(join("office"))["cursor"]


def test_a_phone_that_holds_no_job_gets_none_and_comes_up_to_date(
    four: list[str], sync: Syncs, join: Callable[..., Joined]
) -> None:
    found = sync(join("crew"), held=[])
    assert (found["events"], found["more"]) == ([], False)
    assert found["cursor"] == sync(join("crew"))["cursor"]
