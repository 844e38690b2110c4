"""While something entered is wrong, the last good times stay, and so does the word that it is wrong."""

from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

NOON = FIRST_BATCH + 5 * HOUR


def test_a_problem_stays_told_until_it_is_put_right(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    good = patio.mine()["timeline"]
    wrong = {"load": patio.loads[1], "number": 2, "batched_at": "2026-07-14T20:00:00.000Z", "volume_m3": 3}
    event = patio.record("load.ticketed", wrong, NOON)
    patio.tick(NOON + MINUTE)
    patio.record("note.written", {"text": "Second look"}, NOON)
    patio.tick(NOON + 2 * MINUTE)
    assert patio.mine()["problem"]["code"] == "load_wrong"
    assert patio.mine()["timeline"] == good
    patio.record("event.retracted", {"event": event}, NOON)
    patio.tick(NOON + 3 * MINUTE)
    assert patio.mine()["problem"] is None
    assert patio.mine()["computed_at"] == "2026-07-14T15:33:00.000Z"
