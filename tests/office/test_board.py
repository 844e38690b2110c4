"""The board shows every open job: what is next and how long is left, who has it, who was heard from."""

import uuid
from collections.abc import Callable
from datetime import UTC, datetime, timedelta
from typing import Any

import pytest
from tests.conftest import Joined, iso
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.log.instants import read_instant
from slabtide.office.board import board_jobs
from slabtide.office.conflicts.settings import EST
from slabtide.office.conflicts.stored import conflicts_json
from slabtide.store.session import read

NOON = FIRST_BATCH + 5 * HOUR


def jobs_at(patio: Patio, now: Any) -> list[dict[str, Any]]:
    with patio.app.app_context(), read() as session:
        return board_jobs(session, patio.foreman.company, now)


def test_a_job_stands_with_its_amounts_and_phase(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    (job,) = patio.client.get("/api/board", headers=patio.foreman.headers).get_json()["jobs"]
    shown = {
        name: job[name]
        for name in ("job", "name", "phase", "use", "volume_ordered_m3", "volume_placed_m3", "loads_placed")
    }
    assert shown == {
        "job": patio.job,
        "name": "Harbor patio",
        "phase": "pour",
        "use": "patio",
        "volume_ordered_m3": 6.4,
        "volume_placed_m3": 6.4,
        "loads_placed": 2,
    }
    assert job["loads_ordered"] == 2
    assert set(job["checklists"]) >= {"forms", "debris"}
    assert job["problem"] is None


def test_next_is_the_work_that_closes_first_with_the_minutes_left(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    rows = patio.reminders()
    (job,) = jobs_at(patio, NOON)
    assert (job["next"]["what"], job["next"]["stage"]) == ("saw", "heads_up")
    late = rows["last_call"].due + MINUTE
    (job,) = jobs_at(patio, late)
    assert job["next"]["stage"] == "last_call"
    assert 0 < job["next"]["slack_min"] < 80
    past = rows["missed"].due + 2 * HOUR
    (job,) = jobs_at(patio, past)
    assert (job["next"]["stage"], job["next"]["slack_min"] < 0) == ("missed", True)


def test_once_cut_the_next_work_is_washing(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    patio.record("cut.made", {"length_m": 22, "saw": "conventional", "last": True}, NOON)
    patio.tick(NOON + MINUTE)
    (job,) = jobs_at(patio, NOON + MINUTE)
    assert job["next"]["what"] == "wash"


def test_the_last_acknowledgement_names_the_person(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    opened = patio.reminders()["open"]
    patio.record("reminder.acknowledged", {"reminder": opened.id, "via": "app"}, NOON)
    patio.tick(NOON + MINUTE)
    (job,) = jobs_at(patio, NOON + MINUTE)
    assert job["last_ack"] == {"what": "saw", "stage": "open", "by": "Ana", "at": iso(NOON), "via": "app"}


def test_a_silent_phone_with_unsent_work_shows(patio: Patio, join: Callable[..., Joined], sync: Any) -> None:
    patio.poured()
    luis = join("crew", name="Luis")
    oldest = NOON - 40 * MINUTE
    note = sync.event(luis, patio.job, "note.written", {"text": "No signal by the pool"})
    sync(luis, note, unsent=3, oldest_unsent_at=iso(oldest))
    patio.tick(NOON)
    (job,) = jobs_at(patio, NOON)
    assert (job["unsent"], job["oldest_unsent_at"]) == (3, iso(oldest))
    assert job["last_heard_from"] == "Luis"
    assert job["last_heard_at"] is not None


def test_a_phone_of_another_job_does_not_count(patio: Patio, join: Callable[..., Joined], sync: Any) -> None:
    patio.poured()
    patio.tick(NOON)
    elsewhere = Patio(patio.app, patio.client, sync, join("foreman", name="Rosa"))
    elsewhere.open("Mill walk")
    sync(elsewhere.foreman, unsent=7, oldest_unsent_at=iso(NOON))
    patio.tick(NOON + MINUTE)
    by_name = {job["name"]: job for job in jobs_at(patio, NOON + MINUTE)}
    assert by_name["Harbor patio"]["unsent"] == 0
    assert by_name["Mill walk"]["unsent"] == 7
    assert by_name["Mill walk"]["problem"]["code"] == "slab_missing"


def test_the_nearest_deadline_stands_first(patio: Patio) -> None:
    first = Patio(patio.app, patio.client, patio.sync, patio.foreman)
    first.open("No times yet")
    patio.poured()
    patio.tick(NOON)
    assert {job["name"]: job["standing"] for job in jobs_at(patio, NOON)} == {
        "Harbor patio": "steady",
        "No times yet": "watch",
    }
    close = patio.reminders()["last_call"].due
    found = [(job["name"], job["standing"]) for job in jobs_at(patio, close)]
    assert found == [("Harbor patio", "watch"), ("No times yet", "watch")]


def test_a_closed_job_leaves_the_board(patio: Patio) -> None:
    patio.poured()
    patio.record("job.closed", {}, NOON)
    patio.tick(NOON)
    assert jobs_at(patio, NOON) == []


def test_an_unchanged_board_is_304(patio: Patio) -> None:
    patio.open()
    patio.tick(NOON)
    first = patio.client.get("/api/board", headers=patio.foreman.headers)
    mark = {"If-None-Match": first.headers["ETag"]}
    again = patio.client.get("/api/board", headers=patio.foreman.headers | mark)
    assert again.status_code == 304
    patio.open("Another name")
    patio.tick(NOON + timedelta(seconds=2))
    changed = patio.client.get("/api/board", headers=patio.foreman.headers | mark)
    assert changed.status_code == 200


@pytest.mark.parametrize(("role", "status"), [("crew", 403), ("foreman", 200), ("office", 200)])
def test_the_board_is_for_foreman_and_office(
    patio: Patio, join: Callable[..., Joined], role: str, status: int
) -> None:
    answer = patio.client.get("/api/board", headers=join(role).headers)
    assert answer.status_code == status


def test_nobody_reads_outlook_or_board_without_a_token(patio: Patio) -> None:
    for path in ("/api/outlook", "/api/board"):
        assert patio.client.get(path).status_code == 401


@pytest.mark.parametrize("wrong", ["limit=0", "limit=x", "sort=colour", "phase=moon", "what=1"])
def test_a_board_asked_for_wrongly_is_refused_by_name(patio: Patio, wrong: str) -> None:
    answer = patio.client.get(f"/api/board?{wrong}", headers=patio.foreman.headers)
    assert (answer.status_code, answer.get_json()["error"]["path"]) == (400, wrong.split("=")[0])


def test_a_search_ignores_accents_and_case(patio: Patio) -> None:
    patio.open("Patio de José")
    patio.tick(NOON)
    for search, found in (("jose", 1), ("JOSÉ  patio", 1), ("jose garage", 0)):
        answer = patio.client.get(
            "/api/board", query_string={"search": search}, headers=patio.foreman.headers
        )
        assert answer.get_json()["total"] == found


def test_weather_that_threatens_stands_on_the_board_until_it_is_over(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    (job,) = jobs_at(patio, NOON)
    assert job["weather_risk"]  # a hot July day: else this test shows nothing
    over = max(read_instant(one["to"]) for one in job["weather_risk"])
    (job,) = jobs_at(patio, over + MINUTE)
    assert job["weather_risk"] == []


def test_conflicts_between_jobs_are_told_with_names_and_an_order(patio: Patio) -> None:
    soon = datetime.now(UTC) + 20 * HOUR
    other = Patio(patio.app, patio.client, patio.sync, patio.foreman)
    for one, name in ((patio, "Front walk"), (other, "Back drive")):
        one.open(name)
        one.order(soon)
        one.crew()
    patio.tick(datetime.now(UTC))
    for path in ("/api/conflicts", "/api/board"):
        found = patio.client.get(path, headers=patio.foreman.headers).get_json()
        (conflict,) = (found.get("conflicts") or found)["found"]
        assert (conflict["kind"], conflict["name"]) == ("crew", None)
        assert {turn["name"] for turn in conflict["order"]} == {"Front walk", "Back drive"}
        assert [turn["late_min"] > 0 for turn in conflict["order"]] == [False, True]
        rests = (found.get("conflicts") or found)["rests_on"]
        assert rests["weights"] == dict(EST.weights)
        assert rests["between_jobs_min"] == EST.between_jobs.total_seconds() / 60


def test_two_slabs_poured_at_once_clash_over_their_texture_until_it_is_ticked(patio: Patio) -> None:
    """Once the first load lies there the pour itself stands for nothing any more: its mats do."""
    other = Patio(patio.app, patio.client, patio.sync, patio.foreman)
    for one in (patio, other):
        one.poured()
    now = FIRST_BATCH + 90 * MINUTE
    patio.tick(now)
    assert ("texture", "load-1") in clashing(patio, now)

    bays = [str(uuid.uuid4()) for _ in other.loads]
    for bay, load in zip(bays, other.loads, strict=True):
        body = {"bay": bay, "label": "A", "corners": [[0, 0], [1, 0], [1, 1]], "load": load, "order": 1}
        other.record("bay.drawn", body, now)
        other.record("bay.worked", {"bay": bay, "step": "texture", "mark": "start"}, now)
    other.tick(now + MINUTE)
    assert ("texture", "load-1") in clashing(patio, now), "the crew that began is still at it"
    for bay in bays:
        other.record("bay.worked", {"bay": bay, "step": "texture", "mark": "end"}, now)
    other.tick(now + 2 * MINUTE)
    assert not [work for work in clashing(patio, now) if work[0] == "texture"]
    assert not {"windows", "named", "texture_min"} & set(jobs_at(patio, now)[0])


def clashing(patio: Patio, now: datetime) -> set[tuple[str, str]]:
    """The work in the conflicts of the company."""
    with patio.app.app_context(), read() as session:
        found = conflicts_json(session, patio.foreman.company, now)["found"]
    return {(turn["what"], turn["subject"]) for one in found for turn in one["order"]}


def test_without_a_conflict_nothing_is_told_of_what_an_order_rests_on(patio: Patio) -> None:
    patio.open()
    patio.tick(datetime.now(UTC))
    found = patio.client.get("/api/conflicts", headers=patio.foreman.headers).get_json()
    assert (found["found"], found["rests_on"]) == ([], None)
