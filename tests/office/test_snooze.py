"""Put off on a phone, held on the server, said in the outlook."""

from tests.conftest import iso
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.office.told import reminder_json

NOON = FIRST_BATCH + 5 * HOUR


def test_a_reminder_put_off_says_until_when_and_taking_it_back_lets_go(patio: Patio) -> None:
    patio.poured()
    patio.tick(NOON)
    row = patio.reminders()["open"]
    until = iso(row.due + 5 * MINUTE)
    event = patio.record("reminder.snoozed", {"reminder": row.id, "until": until}, row.due)
    patio.tick(NOON)
    assert reminder_json(patio.reminders()["open"])["snoozed_until"] == until
    patio.tick(row.due + MINUTE)
    assert reminder_json(patio.reminders()["open"])["snoozed_until"] == until, "time passing keeps it"
    patio.record("event.retracted", {"event": event}, row.due)
    patio.tick(NOON)
    assert reminder_json(patio.reminders()["open"])["snoozed_until"] is None
