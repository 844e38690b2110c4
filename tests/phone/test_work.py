"""The phone's own answer is the server's: same log, same hours, same moment, same times and reminders."""

import json
from datetime import datetime
from typing import Any

import pytest
from sqlalchemy import select
from tests.office.learned.closing import ahead, closed, mixed
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.engine import runs
from slabtide.engine.history import History, follow
from slabtide.engine.solved import Solved
from slabtide.log.fold import fold
from slabtide.log.instants import write_instant
from slabtide.office.told import reminder_json
from slabtide.phone.work import decide, work, work_text
from slabtide.reminders.windows import saw_window
from slabtide.store.session import read
from slabtide.store.tables import Event, Reminder

NOON = FIRST_BATCH + 5 * HOUR


def asked(patio: Patio, now: datetime, **more: Any) -> dict[str, Any]:
    """What a phone that has synced would ask its worker, as text would carry it."""
    with patio.app.app_context(), read() as session:
        state = fold(session.scalars(select(Event).where(Event.job == patio.job)), patio.job)
        question = {
            "company": patio.foreman.company,
            "now": write_instant(now),
            "state": state,
            "hours": patio.mine()["weather"]["hours"],
            "told": [],
            "last": None,
            "learned": learned(patio),
        }
        found: dict[str, Any] = json.loads(json.dumps(question | more))
    return found


def learned(patio: Patio) -> dict[str, Any]:
    """What the phone was last told of the job's mix, and of all mixes."""
    outlook = patio.outlook()
    return {"prior": outlook["jobs"][patio.job]["prior"], "mixes": outlook["mixes"]}


def told(patio: Patio) -> list[dict[str, Any]]:
    """The job's reminders as the outlook tells them, however long ago they are."""
    with patio.app.app_context(), read() as session:
        rows = session.scalars(select(Reminder).where(Reminder.job == patio.job))
        return sorted(map(reminder_json, rows), key=lambda each: (each["due"], each["id"]))


def without(known: dict[str, Any], *names: str) -> dict[str, Any]:
    return {name: value for name, value in known.items() if name not in names}


def test_a_poured_job_comes_out_as_on_the_server(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    mine = patio.mine()
    answer = json.loads(work_text(json.dumps(asked(patio, NOON))))
    assert mine["timeline"] is not None
    assert {name: answer[name] for name in without(mine, "weather")} == without(mine, "weather")
    assert answer["weather"] == without(mine["weather"], "hours")


def test_its_own_times_bring_the_handbooks_saw_by_which_its_screens_close_it(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    answer = json.loads(work_text(json.dumps(asked(patio, NOON))))
    loads = answer["timeline"]["loads"]
    assert all(set(load["saw_practice"]) == {"opens", "closes", "surface_drop", "source"} for load in loads)
    told_by = [one for one in answer["reminders"] if one["what"] == "saw"]
    window = saw_window(loads)
    assert window is not None
    assert window.closes is not None
    assert {one["stage"] for one in told_by} == {"heads_up", "open", "last_call", "missed"}
    assert all(one["closes"] == window.closes.as_json() for one in told_by)


def test_reminders_come_out_as_on_the_server(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    found = {(each["what"], each["subject"]) for each in told(patio)}
    by_hand = {(what, f"load-{number}") for what in ("check", "texture") for number in (1, 2)}
    assert found == by_hand | {("saw", ""), ("wash", "")}
    assert work(asked(patio, NOON))["reminders"] == told(patio)


def test_a_load_the_server_has_not_heard_of_moves_the_reminders(patio: Patio) -> None:
    patio.open(), patio.outline(), patio.order(), patio.crew(), patio.typical_year()
    patio.tick(NOON)
    patio.ticket(1)
    patio.place(1)
    answer = work(asked(patio, NOON))
    assert [load["id"] for load in answer["timeline"]["loads"]] == [patio.loads[0]]
    assert {each["what"] for each in answer["reminders"]} == {"check", "texture", "saw", "wash"}
    assert patio.mine()["planned"] is True, "the server has looked no further"


def test_what_was_told_goes_on_from_there(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    heard = [each | ({"state": "sent"} if each["stage"] == "heads_up" else {}) for each in told(patio)]
    patio.record("cut.made", {"length_m": 22, "saw": "conventional", "last": True}, NOON)
    after = {
        (each["what"], each["stage"]): each["state"]
        for each in work(asked(patio, NOON, told=heard))["reminders"]
    }
    assert after["saw", "heads_up"] == "sent"
    assert after["saw", "open"] == "cancelled"


def test_in_hand_on_the_phone_is_in_hand_at_once(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    first = next(
        each
        for each in work(asked(patio, NOON))["reminders"]
        if (each["what"], each["stage"]) == ("saw", "open")
    )
    patio.record("reminder.acknowledged", {"reminder": first["id"], "via": "app"}, NOON)
    again = next(each for each in work(asked(patio, NOON))["reminders"] if each["id"] == first["id"])
    assert (again["state"], again["acknowledged"]["by"]) == ("acknowledged", patio.foreman.person)


def test_a_slip_keeps_the_last_good_times_and_says_when_they_are_from(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    last = work(asked(patio, NOON))
    early = {"load": patio.loads[0], "from": write_instant(FIRST_BATCH - 20 * HOUR)}
    patio.record("load.placed", early | {"to": write_instant(FIRST_BATCH - 19 * HOUR), "area_m2": 26}, NOON)
    answer = work(asked(patio, NOON + MINUTE, last=last))
    assert answer["problem"]["code"] == "load_wrong"
    assert answer["timeline"] == last["timeline"]
    assert answer["computed_at"] == last["computed_at"]
    assert last["computed_at"] in answer["problem"]["message"]


def test_a_mix_changed_without_a_signal_begins_from_what_is_known_of_that_one(patio: Patio) -> None:
    closed(patio)
    following = ahead(patio, name="Drive mix")
    now = FIRST_BATCH + 100 * HOUR
    following.tick(now)
    question = asked(following, now)
    mixed(following)
    changed = asked(following, now, learned=question["learned"])
    following.tick(now)
    assert (question["learned"]["prior"]["level"], work(question)["prior"]["level"]) == ("company", "company")
    assert work(changed)["prior"] == following.mine()["prior"]
    assert work(changed)["timeline"] == following.mine()["timeline"]


def test_what_if_and_advice_begin_from_it_too(patio: Patio) -> None:
    closed(patio)
    following = ahead(patio)
    now = FIRST_BATCH + 100 * HOUR
    following.tick(now)
    question = asked(following, now) | {
        "decide": "what_if",
        "changes": [{"change": "start_shift", "minutes": 0}],
    }
    answer = decide(question)["answer"]["loads"][0]["windows"]["texture"]
    texture = following.mine()["timeline"]["loads"][0]["windows"]["texture"]
    assert answer["before"]["closes"]["likely"] == texture["closes"]["likely"]


def test_entry_after_entry_comes_out_as_from_a_worker_that_solved_nothing_before(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    entries: list[tuple[str, dict[str, Any]]] = [
        ("check.made", {"load": patio.loads[0], "kind": "footprint", "depth_mm": 9}),
        ("weather.noted", {"air_temp_c": 33.5, "rh": 0.35, "wind_kmh": 19}),
        ("check.made", {"load": patio.loads[1], "kind": "mat_refused"}),
    ]
    answers = set()
    for turn, (kind, body) in enumerate(entries):
        now = NOON + turn * MINUTE
        patio.record(kind, body, now)
        question = asked(patio, now)
        answers.add(text := work_text(json.dumps(question)))
        assert json.loads(text) == work(question)
        ask = question | {"decide": "what_if", "changes": [{"change": "people", "people": 6}]}
        assert json.loads(work_text(json.dumps(ask))) == decide(ask)
    assert len(answers) == len(entries)


def test_a_check_solves_no_heat_anew_within_the_hour(patio: Patio, monkeypatch: pytest.MonkeyPatch) -> None:
    patio.poured()
    patio.tick(NOON)
    histories: list[History] = []

    def counted(*given: Any) -> History:
        histories.append(follow(*given))
        return histories[-1]

    monkeypatch.setattr(runs, "follow", counted)
    solved = Solved()
    work(asked(patio, NOON), solved)
    assert len(histories) == 4 * 2
    patio.record("check.made", {"load": patio.loads[0], "kind": "footprint", "depth_mm": 9}, NOON + MINUTE)
    work(asked(patio, NOON + MINUTE), solved)
    assert len(histories) == 4 * 2
    work(asked(patio, NOON + 60 * MINUTE), solved)
    assert len(histories) == 4 * 2 + 2 * 2, "two loads, each in cooler and in warmer weather than told"


def test_without_weather_the_phone_asks_for_it(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    answer = work(asked(patio, NOON, hours=None))
    assert answer["timeline"] is None
    assert answer["problem"]["code"] == "weather_missing"
    assert {each["what"] for each in answer["reminders"]} == {"saw", "wash"}, "practice speaks instead"
