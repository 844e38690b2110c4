"""Marks on the bays become the crew's progress, and move the race."""

import uuid
from datetime import datetime, timedelta
from typing import Any

from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

BAYS = [str(uuid.uuid4()) for _ in range(2)]
NOW = FIRST_BATCH + 3 * HOUR


def with_bays(patio: Patio) -> Patio:
    """The patio poured, in two bays, one for each load."""
    patio.poured()
    for number, left in ((1, 0), (2, 4)):
        corners = [[left, 0], [left + 4, 0], [left + 4, 6.5], [left, 6.5]]
        body = {
            "bay": BAYS[number - 1],
            "label": f"Bay {number}",
            "corners": corners,
            "order": number,
            "load": patio.loads[number - 1],
        }
        patio.record("bay.drawn", body)
    return patio


def mark(patio: Patio, bay: str, what: str, at: datetime) -> str:
    return patio.record("bay.worked", {"bay": bay, "step": "texture", "mark": what}, at)


def pace(patio: Patio, now: datetime) -> dict[str, Any]:
    patio.tick(now)
    found: dict[str, Any] = patio.mine()["timeline"]["pace"]
    return found


def test_a_bay_begun_and_done_moves_the_race_on(patio: Patio) -> None:
    with_bays(patio)
    before = pace(patio, NOW)
    assert before["where"]["begun"] is False
    mark(patio, BAYS[0], "start", NOW)
    begun = pace(patio, NOW + 10 * MINUTE)
    assert begun["where"]["load"] == patio.loads[0]
    assert 0 < begun["where"]["done_m2"] < 26
    mark(patio, BAYS[0], "end", NOW + 35 * MINUTE)
    done = pace(patio, NOW + 36 * MINUTE)
    assert [load["id"] for load in done["loads"]] == [patio.loads[1]]
    assert done["where"]["done_m2"] == 26.0
    assert done["where"]["timed_minutes"] == 35


def test_a_mark_taken_back_is_a_bay_not_done(patio: Patio) -> None:
    with_bays(patio)
    mark(patio, BAYS[0], "start", NOW)
    end = mark(patio, BAYS[0], "end", NOW + 30 * MINUTE)
    patio.record("event.retracted", {"event": end}, NOW + 31 * MINUTE)
    told = pace(patio, NOW + 32 * MINUTE)
    assert told["where"]["load"] == patio.loads[0]
    assert len(told["loads"]) == 2


def test_once_every_bay_is_textured_there_is_no_race(patio: Patio) -> None:
    with_bays(patio)
    for bay in BAYS:
        mark(patio, bay, "start", NOW)
        mark(patio, bay, "end", NOW + timedelta(minutes=30))
    patio.tick(NOW + 31 * MINUTE)
    assert patio.mine()["timeline"]["pace"] is None
