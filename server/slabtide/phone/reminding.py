"""The reminders of one job as a phone derives them, going on from those the server last told it."""

from collections.abc import Mapping, Sequence
from datetime import UTC, datetime
from typing import Any
from zoneinfo import ZoneInfo

from slabtide.log.model import JobView
from slabtide.reminders.contract import Spec, iso, reminder_id
from slabtide.reminders.facts import acks_of, facts_of, snoozes_of
from slabtide.reminders.plan import Key, Standing, plan
from slabtide.reminders.rules import derive
from slabtide.reminders.snooze import held_until
from slabtide.reminders.words import Telling, in_every_language

Told = Mapping[str, Any]
_SENT = ("sent", "acknowledged")


def reminders_of(
    view: JobView, timeline: Mapping[str, Any] | None, told: Sequence[Told], company_id: str, now: datetime
) -> list[dict[str, Any]]:
    """The job's reminders in the form of the outlook, by due time.

    timeline -- of concrete that lies there; None while there is none
    told -- the job's reminders as the outlook last had them
    """
    facts = facts_of(view)
    if facts is None:
        return [dict(reminder) for reminder in told]
    specs = derive(facts, timeline)
    known = {_key(reminder): reminder for reminder in told}
    wanted: dict[Key, Spec] = {(spec.what, spec.subject, spec.stage): spec for spec in specs}
    acks = acks_of(view)
    in_hand = {
        key: acks[name]
        for key in {*known, *wanted}
        if (name := reminder_id(company_id, view.id, *key)) in acks
    }
    standing = {key: _standing(reminder) for key, reminder in known.items()}
    after = plan(standing, specs, in_hand, now, ZoneInfo(facts.time_zone))
    found = [
        _written(wanted[key], state, facts.name, facts.time_zone, company_id, view.id, now)
        if key in wanted
        else {**known[key], **_state_json(state)}
        for key, state in after.items()
    ]
    snoozes = snoozes_of(view)
    for key, reminder in zip(after, found, strict=True):
        asked = snoozes.get(reminder["id"])
        until = held_until(wanted[key], specs, asked, after[key]) if key in wanted else None
        reminder["snoozed_until"] = until and iso(until)
    return sorted(found, key=lambda reminder: (reminder["due"], reminder["id"]))


def _key(reminder: Told) -> Key:
    return (reminder["what"], reminder["subject"], reminder["stage"])


def _standing(reminder: Told) -> Standing:
    due = _moment(reminder["due"])
    moved = reminder["moved_from"]
    return Standing(
        reminder["state"],
        due,
        due if reminder["state"] in _SENT else None,
        _moment(moved) if moved else None,
        reminder["acknowledged"] or _from_then_on(reminder),
    )


def _from_then_on(reminder: Told) -> dict[str, Any] | None:
    moved_at = reminder.get("counts_from")  # an older server does not say
    return {"before": moved_at} if moved_at else None


def _written(
    spec: Spec, state: Standing, name: str, time_zone: str, company_id: str, job: str, now: datetime
) -> dict[str, Any]:
    telling = Telling.of(spec, name, time_zone, state.moved_from, max(state.due, now))
    title, words = in_every_language(telling)
    return {
        "id": reminder_id(company_id, job, spec.what, spec.subject, spec.stage),
        "job": job,
        "what": spec.what,
        "subject": spec.subject,
        "stage": spec.stage,
        "due": iso(state.due),
        "opens": spec.opens.as_json(),
        "closes": spec.closes.as_json() if spec.closes else None,
        "expires": iso(spec.expires),
        **_state_json(state),
        "title": title,
        "words": words,
    }


def _state_json(state: Standing) -> dict[str, Any]:
    return {
        "state": state.state,
        "moved_from": iso(state.moved_from) if state.moved_from else None,
        "moved_why": None,  # a phone knows what was logged, not what a forecaster changed
        "acknowledged": dict(state.ack) if state.ack and "by" in state.ack else None,
        "counts_from": state.ack.get("before") if state.ack else None,
    }


def _moment(text: str) -> datetime:
    return datetime.fromisoformat(text).astimezone(UTC)
