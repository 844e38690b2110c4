"""A saw reminder names the first night's drop of the surface while it is ahead, in both languages."""

from dataclasses import replace
from datetime import timedelta
from typing import Any

import pytest
from tests.reminders.conftest import CLOSES, OPENS, facts, saw_timeline
from tests.reminders.test_words import LAST_CALL

from slabtide.reminders.contract import NightDrop, When
from slabtide.reminders.rules import derive
from slabtide.reminders.words import body

DROPS = CLOSES + timedelta(minutes=20, seconds=31)
AHEAD = NightDrop(LAST_CALL.at + timedelta(hours=1), 12, 8.333, False)


def notice(at: Any = DROPS, case: str = "in_time") -> dict[str, Any]:
    params = {"case": case, "peak_c": 38.2, "coldest_c": 11.7, "drop_k": 8.333}
    told = {"code": "first_night_drop", "load": "1", "text": ""}
    return told | {"from": at.isoformat(), "to": at.isoformat(), "params": params}


def telling(drop: NightDrop, stage: str = "open") -> Any:
    return replace(LAST_CALL, stage=stage, opens=replace(LAST_CALL.opens, drop=drop))


@pytest.mark.parametrize("stage", ["heads_up", "open", "last_call"])
def test_the_drop_ahead_is_named_with_its_hour_and_what_to_do(stage: str) -> None:
    assert (
        " First night: the surface is 15 °F (8 °C) under its peak by 10:05 pm, then down to 54 °F (12 °C)."
        " Cut before, or lay blankets. Water on the blade" in body(telling(AHEAD, stage), "en")
    )
    assert (
        " Primera noche: a las 10:05 p. m. la superficie está 15 °F (8 °C) por debajo de su máximo, luego"
        " baja a 54 °F (12 °C). Corte antes o ponga mantas." in body(telling(AHEAD, stage), "es")
    )


def test_a_drop_before_the_saw_may_start_tells_of_the_other_ways() -> None:
    soon = replace(AHEAD, too_late=True)
    assert "before a plain saw can cut. Early-entry saw, tooled joints or blankets." in body(
        telling(soon), "en"
    )
    assert "Sierra de corte temprano, juntas a mano o mantas." in body(telling(soon), "es")


def test_a_drop_that_is_past_sends_the_eye_to_cracks() -> None:
    past = replace(AHEAD, at=LAST_CALL.at - timedelta(minutes=5))
    assert "since 9:00 pm: look for cracks first." in body(telling(past), "en")
    assert "busque grietas primero." in body(telling(past), "es")


def test_without_a_drop_nothing_of_the_night_is_said() -> None:
    assert "night" not in body(replace(LAST_CALL, stage="open"), "en")


def test_every_saw_reminder_carries_the_first_loads_drop_in_whole_minutes_and_degrees() -> None:
    later = notice(DROPS + timedelta(hours=1))
    specs = derive(facts(), saw_timeline() | {"warnings": [later, notice(), later | {"code": "rain"}]})
    drops = {spec.stage: spec.opens.drop for spec in specs if spec.what == "saw"}
    at = DROPS.replace(second=0)
    assert drops == dict.fromkeys(
        ("heads_up", "open", "last_call", "missed"), NightDrop(at, 12, 8.333, False)
    )
    assert all(spec.opens.drop is None for spec in specs if spec.what != "saw")


def test_a_drop_is_stored_and_read_again_as_it_was() -> None:
    opens = When(OPENS, OPENS, OPENS, None, AHEAD)
    assert When.from_json(opens.as_json()) == opens
    assert "drop" not in When(OPENS, OPENS, OPENS).as_json()
