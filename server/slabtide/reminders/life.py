"""A reminder's whole life, told in order from what was noted step by step."""

from collections.abc import Mapping
from dataclasses import dataclass
from datetime import datetime
from typing import Any

from sqlalchemy import select
from sqlalchemy.orm import Session

from slabtide.errors import NotFoundError
from slabtide.log.instants import write_instant
from slabtide.reminders.steps import ORDER
from slabtide.store.tables import (
    Delivery,
    Device,
    Event,
    JobMark,
    Person,
    PushSubscription,
    Reminder,
    ReminderStep,
)


class NoSuchReminderError(NotFoundError):
    """No reminder of this company has this id."""

    code = "reminder_unknown"

    def __init__(self) -> None:
        super().__init__("There is no such reminder.", "Go back to the job and open it from there.")


@dataclass(frozen=True, slots=True)
class _Who:
    people: Mapping[str, str]
    roles: Mapping[str, str]
    devices: Mapping[str, Device]
    subscriptions: Mapping[str, str]

    def of(self, subscription: str | None) -> dict[str, str | None]:
        """Who holds the device of a subscription, and the device's name."""
        device = self.devices.get(self.subscriptions.get(subscription or "", ""))
        if device is None:
            return {}
        person = device.person_id
        return {"who": self.people.get(person), "role": self.roles.get(person), "where": device.name}


def life_json(session: Session, company_id: str, reminder: str) -> dict[str, Any]:
    """The reminder and its steps, for the wire. Raises `NoSuchReminderError`."""
    row = session.get(Reminder, (company_id, reminder))
    if row is None:
        raise NoSuchReminderError
    who = _who(session, company_id)
    noted = list(session.scalars(_steps(company_id, reminder)))
    steps = [_step(one, who, session, row) for one in sorted(noted, key=_in_order)]
    if not any(one.step == "planned" for one in noted):  # it is older than the notes of steps
        steps = _from_rows(session, row, who, {one["step"] for one in steps}) + steps
    mark = session.get(JobMark, (company_id, row.job))
    state = (mark.state if mark is not None else None) or {}
    return {
        "job": {"id": row.job, "name": state.get("name"), "time_zone": state.get("time_zone") or "UTC"},
        "steps": steps,
        "ahead": [{"step": "planned", "at": write_instant(row.due)}] if row.state == "planned" else [],
        "updated_at": write_instant(row.updated_at),
    }


def _step(one: ReminderStep, who: _Who, session: Session, row: Reminder) -> dict[str, Any]:
    detail = dict(one.detail or {})
    told: dict[str, Any] = {"step": one.step, "at": write_instant(one.at)} | who.of(one.subscription_id)
    for name in ("from", "to", "why", "via", "until", "due", "status"):
        if detail.get(name) is not None:
            told[name] = detail[name]
    if "by" in detail:
        told |= {"who": who.people.get(detail["by"], detail["by"]), "role": who.roles.get(detail["by"])}
        # When the person said it, which may be before the server heard.
        told["at"] = detail.get("at", told["at"])
    if one.step == "acknowledged":
        told["where"] = _device_of_ack(session, row, detail, who)
    return told


def _from_rows(session: Session, row: Reminder, who: _Who, known: set[str]) -> list[dict[str, Any]]:
    """What the tables still tell of a reminder from before its steps were noted."""
    found: list[dict[str, Any]] = [{"step": "planned", "at": write_instant(row.created_at)}]
    deliveries = select(Delivery).where(Delivery.company_id == row.company_id, Delivery.reminder_id == row.id)
    for one in session.scalars(deliveries.order_by(Delivery.created_at)):
        if one.sent_at is not None and "accepted" not in known:
            told = {"step": "accepted", "at": write_instant(one.sent_at), "status": one.status}
            found.append(told | who.of(one.subscription_id))
        elif one.state == "failed" and "refused" not in known:
            told = {"step": "refused", "at": write_instant(one.created_at), "why": one.error}
            found.append(told | who.of(one.subscription_id))
    if row.ack and "by" in row.ack and "acknowledged" not in known:
        by = row.ack["by"]
        told = {"step": "acknowledged", "at": row.ack["at"], "via": row.ack["via"]}
        found.append(told | {"who": who.people.get(by, by), "role": who.roles.get(by)})
    return found


def _device_of_ack(session: Session, row: Reminder, detail: Mapping[str, Any], who: _Who) -> str | None:
    """The device someone said it on, by the entry in the job's log."""
    query = select(Event.device).where(
        Event.company_id == row.company_id,
        Event.job == row.job,
        Event.kind == "reminder.acknowledged",
        Event.at == detail.get("at"),
    )
    device = who.devices.get(session.scalar(query.limit(1)) or "")
    return device.name if device else None


def _in_order(one: ReminderStep) -> tuple[datetime, int]:
    order = [*map(str, ORDER)]
    return one.at, order.index(one.step) if one.step in order else len(order)


def _who(session: Session, company_id: str) -> _Who:
    people = list(session.scalars(select(Person).where(Person.company_id == company_id)))
    devices = session.scalars(select(Device).where(Device.company_id == company_id))
    known = session.execute(
        select(PushSubscription.id, PushSubscription.device).where(PushSubscription.company_id == company_id)
    )
    return _Who(
        {one.id: one.name for one in people},
        {one.id: one.role for one in people},
        {one.id: one for one in devices},
        {row.id: row.device for row in known},
    )


def _steps(company_id: str, reminder: str) -> Any:
    return select(ReminderStep).where(
        ReminderStep.company_id == company_id, ReminderStep.reminder_id == reminder
    )
