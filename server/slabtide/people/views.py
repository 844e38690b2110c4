"""HTTP face of the people room: join, invite, devices, the caller's own language."""

from __future__ import annotations

from datetime import UTC, datetime
from typing import Any

from flask import Blueprint, jsonify, request
from flask.typing import ResponseReturnValue

from slabtide.config import current_config
from slabtide.json_body import load, read_object
from slabtide.log.instants import write_instant
from slabtide.people import codes, devices, guessing, invites
from slabtide.people.access import RoleNotAllowedError, caller, require
from slabtide.people.joining import speak
from slabtide.people.requests import InviteRequest, JoinRequest, MeRequest
from slabtide.store.meta import epoch
from slabtide.store.tables import Device, Person

people = Blueprint("people", __name__, url_prefix="/api")


@people.post("/join")
def join() -> ResponseReturnValue:
    """Spend a code; the token in the answer is shown this once."""
    wanted = load(JoinRequest(), read_object())
    now = datetime.now(UTC)
    attempt = guessing.begin_attempt(request.remote_addr or "unknown", now)
    try:
        enrolled, company_id, company_name = invites.redeem(
            wanted["code"],
            wanted["person_name"],
            device_name=wanted["device_name"],
            language=wanted["language"],
            now=now,
        )
    except invites.CodeExpiredError:
        guessing.forgive(attempt)
        raise
    guessing.forgive(attempt)
    answer = {
        "token": enrolled.token,
        "device": {"id": enrolled.device_id},
        "person": {"id": enrolled.person_id, "name": enrolled.person_name},
        "role": enrolled.role,
        "company": {"id": company_id, "name": company_name},
        "epoch": epoch(),
        "server_time": _iso(now),
    }
    return jsonify(answer), 201


@people.post("/invites")
@require("foreman", "office")
def make_invite() -> ResponseReturnValue:
    """A one-time code, its link and the link's QR code."""
    wanted = load(InviteRequest(), read_object())
    config = current_config()
    made = invites.invite(
        caller().company_id,
        wanted["role"],
        now=datetime.now(UTC),
        minutes=config.invite_minutes,
        by=caller().person_id,
        person_name=wanted["person_name"],
        person_id=wanted["person"],
    )
    # Without a set address: the one the caller reached us by, which works for the next phone too.
    address = invites.link(config.base_url or request.host_url.rstrip("/"), made.code)
    answer = {
        "code": codes.shown(made.code),
        "link": address,
        "qr_svg": invites.qr_svg(address),
        "expires_at": _iso(made.expires_at),
        "role": made.role,
        "person": {"id": made.person_id, "name": made.person_name} if made.person_id else None,
    }
    return jsonify(answer), 201


@people.get("/devices")
@require("foreman", "office")
def list_devices() -> ResponseReturnValue:
    """Every device of the company, and what each still has unsent."""
    return jsonify(devices=[_device(*pair) for pair in devices.devices_of(caller().company_id)])


@people.post("/devices/<device_id>/revoke")
@require()
def revoke_device(device_id: str) -> ResponseReturnValue:
    """Shut a device out. Crew may do this to the device in their hand only."""
    if caller().role == "crew" and device_id != caller().device_id:
        raise RoleNotAllowedError(("foreman", "office"))
    revoked_at = devices.revoke(caller().company_id, device_id, datetime.now(UTC))
    return jsonify(id=device_id, revoked_at=_iso(revoked_at))


@people.put("/me")
@require()
def change_me() -> ResponseReturnValue:
    """The language the caller's reminders are written in."""
    wanted = load(MeRequest(), read_object())
    speak(caller().company_id, caller().person_id, wanted["language"])
    return "", 204


def _device(device: Device, person: Person) -> dict[str, Any]:
    return {
        "id": device.id,
        "name": device.name,
        "person": {"id": person.id, "name": person.name, "role": person.role},
        "created_at": _iso(device.created_at),
        "last_heard_at": _iso(device.last_heard_at),
        "unsent": device.unsent,
        "oldest_unsent_at": _iso(device.oldest_unsent_at),
        "revoked_at": _iso(device.revoked_at),
        "this": device.id == caller().device_id,
    }


def _iso(moment: datetime | None) -> str | None:
    return None if moment is None else write_instant(moment)
