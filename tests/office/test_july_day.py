"""A whole day on real hourly weather: two loads, their saw window, the reminders, an acknowledgement."""

import json
from collections.abc import Iterator
from datetime import datetime, timedelta
from typing import Any

import pytest
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio
from tests.reminders.push_service import PushService

from slabtide.config import config_of
from slabtide.log.instants import read_instant
from slabtide.office.stored_weather import load_file
from slabtide.reminders.keys import make_key
from slabtide.store.session import write


@pytest.fixture
def service() -> Iterator[PushService]:
    made = PushService()
    yield made
    made.close()


def safe_close(load: dict[str, Any], side: str) -> datetime:
    """The sooner of the model's close and practice's, the latter two hours after the opening at the least."""
    saw = load["windows"]["saw"]
    practice = max(
        read_instant(load["saw_practice"]["closes"]), read_instant(saw["opens"][side]) + timedelta(hours=2)
    )
    return min(read_instant(saw["closes"][side]), practice)


def test_a_july_pour_leads_from_its_loads_to_reminders_on_the_phone(
    patio: Patio, service: PushService
) -> None:
    make_key(config_of(patio.app).vapid_key_file)
    subscribed = patio.client.post(
        "/api/push/subscription", json=service.subscription("lead"), headers=patio.foreman.headers
    )
    assert subscribed.status_code == 204
    patio.poured()
    patio.tick(FIRST_BATCH + 3 * HOUR)

    loads = patio.mine()["timeline"]["loads"]
    windows = [load["windows"]["saw"] for load in loads]
    rows = patio.reminders()
    for side in ("early", "likely", "late"):
        assert read_instant(rows["open"].opens[side]) == min(read_instant(w["opens"][side]) for w in windows)
        closes = rows["open"].closes or {}
        assert read_instant(closes[side]) == min(safe_close(load, side) for load in loads)
    opened, closed = (read_instant((rows["open"].closes or {})["early"]), rows["missed"].due)
    print(f"saw: opens {rows['open'].opens}, closes {rows['open'].closes}")
    assert FIRST_BATCH + 4 * HOUR < rows["open"].due < rows["last_call"].due < opened <= closed

    now = FIRST_BATCH + 3 * HOUR
    while patio.reminders()["last_call"].due > now:  # it moves a little as forecast becomes past
        now += 10 * MINUTE
        patio.tick(now)
    titles = [one.message["notification"]["title"] for one in service.arrived]
    assert [title.rpartition(", ")[2] for title in titles if "saw" in title] == [
        "coming up",
        "open now",
        "last call",
    ]

    acked = patio.reminders()["last_call"]
    body = {"reminder": acked.id, "via": "notification"}
    patio.record("reminder.acknowledged", body, now)
    patio.tick(now + timedelta(seconds=2))
    found = patio.reminders()["last_call"]
    assert found.state == "acknowledged"
    assert (found.ack or {})["by"] == patio.foreman.person

    done = {"length_m": 22, "saw": "conventional", "last": True}
    patio.record("cut.made", done, now + 20 * MINUTE)
    patio.tick(now + 21 * MINUTE)
    assert patio.reminders()["missed"].state == "cancelled"
    patio.tick(closed + MINUTE)
    assert not [one for one in service.arrived if "past" in one.message["notification"]["title"]]


def test_a_phone_that_syncs_late_is_told_the_stage_that_is_true_then(
    patio: Patio, service: PushService
) -> None:
    make_key(config_of(patio.app).vapid_key_file)
    patio.client.post(
        "/api/push/subscription", json=service.subscription("lead"), headers=patio.foreman.headers
    )
    patio.poured()
    patio.tick(FIRST_BATCH + 3 * HOUR)
    late = patio.reminders()["last_call"].due + 20 * MINUTE
    other = Patio(patio.app, patio.client, patio.sync, patio.foreman).poured()
    service.arrived.clear()
    other.tick(late)
    assert [one.message["notification"]["tag"] for one in service.arrived].count(
        other.reminders()["last_call"].id
    ) == 1
    assert {stage: row.state for stage, row in other.reminders().items()} == {
        "heads_up": "cancelled",
        "open": "cancelled",
        "last_call": "sent",
        "missed": "planned",
    }


def test_checks_that_slow_the_mix_move_the_saw_reminders(patio: Patio) -> None:
    patio.poured()
    patio.tick(FIRST_BATCH + 3 * HOUR)
    before = patio.reminders()["open"].due
    soft = {"load": patio.loads[0], "kind": "footprint", "depth_mm": 25}
    for minutes in (180, 200, 220):
        patio.record("check.made", soft, FIRST_BATCH + minutes * MINUTE)
    patio.record("check.made", soft | {"load": patio.loads[1]}, FIRST_BATCH + 230 * MINUTE)
    patio.tick(FIRST_BATCH + 4 * HOUR)
    assert patio.reminders()["open"].due > before + 15 * MINUTE


def rainy(patio: Patio, hour: datetime, mm: float) -> Patio:
    """The patio poured, under mild weather with rain in one hour."""
    patio.poured()
    start = FIRST_BATCH.replace(minute=0) - 12 * HOUR
    hours = [
        {
            "at": (start + index * HOUR).isoformat(),
            "air_temp_c": 22.0,
            "rh": 0.7,
            "wind_kmh": 8.0,
            "cloud": 0.6,
            "solar_w_m2": 300.0,
            "rain_mm": mm if start + index * HOUR == hour else 0.0,
        }
        for index in range(150)
    ]
    with patio.app.app_context(), write() as session:
        company, text = patio.foreman.company, json.dumps({"hourly": hours})
        load_file(session, company, patio.job, text, "shower", None, FIRST_BATCH)
    return patio


def test_rain_on_the_placed_slab_leaves_its_times_apart_and_is_told_with_its_hour(patio: Patio) -> None:
    """A shower at nine once wrote every time of the race as nine o'clock, and took the windows."""
    shower = FIRST_BATCH.replace(minute=0) + 3 * HOUR
    rainy(patio, shower, 3.0).tick(FIRST_BATCH + 2 * HOUR)
    timeline = patio.mine()["timeline"]
    first, second = timeline["pace"]["loads"]
    times = [load[key]["likely"] for load in (first, second) for key in ("reached", "finished", "closes")]
    assert len(set(times)) == 6
    for load in timeline["loads"]:
        texture = load["windows"]["texture"]
        assert texture["opens"]["likely"] < texture["closes"]["likely"]
    told = [one for one in timeline["warnings"] if one["code"] == "rain_on_placed"]
    assert [read_instant(one["from"]) for one in told] == [shower, shower]
    assert {one["params"]["rain_mm"] for one in told} == {3.0}
