"""Who is told, what waits and what still counts are what the vectors say; the phone reads the same ones."""

import json
from datetime import UTC, datetime, timedelta
from pathlib import Path
from typing import Any
from zoneinfo import ZoneInfo

import pytest

from slabtide.reminders.contract import Spec, When, iso
from slabtide.reminders.escalate import WAITS
from slabtide.reminders.first_told import first_told, working_day
from slabtide.reminders.plan import Ack, Standing, plan
from slabtide.reminders.snooze import Snooze, held_until


def vectors(name: str) -> Any:
    return json.loads((Path(__file__).parents[1] / "vectors" / f"{name}.json").read_text())


TOLD, PUT_OFF = vectors("first_told"), vectors("put_off")
PEOPLE = [(person, role) for person, role in TOLD["people"]]


def named(case: dict[str, Any]) -> str:
    return str(case["name"])


def moment(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)


def when(told: Any) -> When:
    if isinstance(told, str):
        return When(moment(told), moment(told), moment(told))
    return When(*(moment(told[name]) for name in ("early", "likely", "late")))


def spec_of(what: Any, stage: Any, due: str) -> Spec:
    told = PUT_OFF["reminder"]
    return Spec(
        what, "", stage, moment(due), when(told["opens"]), when(told["closes"]), moment(told["expires"])
    )


@pytest.mark.parametrize("case", TOLD["cases"], ids=named)
def test_a_reminder_goes_to_whom_the_rule_says(case: dict[str, Any]) -> None:
    spec = spec_of(case["what"], case["stage"], "2026-07-14T18:00:00Z")
    told = first_told(spec.what, spec.stage, spec.audience, case["lead"], PEOPLE, lambda: set(case["logged"]))
    assert sorted(told) == case["told"]


@pytest.mark.parametrize("case", TOLD["days"], ids=named)
def test_the_working_day_of_a_job_began_then(case: dict[str, Any]) -> None:
    assert iso(working_day(moment(case["now"]), case["zone"])) == case["since"]


def test_what_nobody_took_waits_as_long_on_both_sides() -> None:
    waits = {f"{what}/{stage}": wait / timedelta(minutes=1) for (what, stage), wait in WAITS.items()}
    assert waits == TOLD["waits_min"]


@pytest.mark.parametrize("case", PUT_OFF["held"], ids=named)
def test_a_reminder_put_off_is_held_until_then(case: dict[str, Any]) -> None:
    spec = spec_of("saw", case["stage"], PUT_OFF["reminder"]["opens"])
    last_call = case.get("last_call", PUT_OFF["reminder"]["last_call"])
    others = [spec_of("saw", "last_call", last_call)] if last_call else []
    standing = Standing("sent", spec.due, ack=case["counts_from"] and {"before": case["counts_from"]})
    held = held_until(
        spec, [spec, *others], Snooze("ana", moment(case["at"]), moment(case["until"])), standing
    )
    assert (held and iso(held)) == case["held"]


@pytest.mark.parametrize("case", PUT_OFF["in_hand"], ids=named)
def test_what_was_taken_in_hand_before_a_move_counts_no_more(case: dict[str, Any]) -> None:
    spec = spec_of("saw", "open", PUT_OFF["reminder"]["opens"])
    was = Standing("sent", spec.due, spec.due, ack=case["counts_from"] and {"before": case["counts_from"]})
    key = ("saw", "", "open")
    acks = {key: Ack("ana", moment(case["at"]), "app")}
    after = plan({key: was}, [spec], acks, moment("2026-07-14T18:30:00Z"), ZoneInfo("UTC"))
    assert (after[key].state == "acknowledged") == case["counts"]
