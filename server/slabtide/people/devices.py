"""The devices of a company: which there are, what they still owe, and shutting one out."""

from __future__ import annotations

from datetime import datetime

from sqlalchemy import select, update

from slabtide.errors import NotFoundError
from slabtide.store.session import read, write
from slabtide.store.tables import Device, Person, PushSubscription


def devices_of(company_id: str) -> list[tuple[Device, Person]]:
    """Every device of the company with its person: live ones first, then newest first."""
    query = (
        select(Device, Person)
        .join(Person, (Person.company_id == Device.company_id) & (Person.id == Device.person_id))
        .where(Device.company_id == company_id)
        .order_by(Device.revoked_at.is_not(None), Device.created_at.desc())
    )
    with read() as session:
        return [(device, person) for device, person in session.execute(query)]


def revoke(company_id: str, device_id: str, now: datetime) -> datetime:
    """Shut a device out from its next request on, and stop pushes to it. Gives when it was shut out.

    What the phone has not sent stays on the phone. Raises `NotFoundError`.
    """
    with write() as session:
        device = session.get(Device, (company_id, device_id))
        if device is None:
            raise NotFoundError("There is no such device.", "Load the list of devices again.")
        if device.revoked_at is None:
            device.revoked_at = now
            session.execute(
                update(PushSubscription)
                .where(
                    PushSubscription.company_id == company_id,
                    PushSubscription.device == device_id,
                    PushSubscription.retired_at.is_(None),
                )
                .values(retired_at=now, why="device revoked")
            )
        return device.revoked_at
