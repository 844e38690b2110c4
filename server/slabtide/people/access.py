"""Who is calling, and whether their role may."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass
from datetime import datetime
from functools import wraps
from http import HTTPStatus
from typing import ParamSpec, TypeVar

from flask import g, request
from sqlalchemy import bindparam, select

from slabtide.errors import AppError
from slabtide.people.tokens import company_of, token_hash
from slabtide.store.meta import EPOCH
from slabtide.store.session import glance
from slabtide.store.tables import Company, CompanyCounter, Device, Meta, Person

ROLES = ("crew", "foreman", "office")
_CALLER = (
    select(
        Device.id.label("device_id"),
        Device.name.label("device_name"),
        Device.revoked_at,
        Person.id.label("person_id"),
        Person.name,
        Person.role,
        Person.language,
        Company.name.label("company_name"),
        Device.last_heard_at,
        Device.unsent,
        Device.oldest_unsent_at,
        CompanyCounter.seq.label("log_seq"),
        select(Meta.value).where(Meta.key == EPOCH).scalar_subquery().label("epoch"),
    )
    .join(Person, (Person.company_id == Device.company_id) & (Person.id == Device.person_id))
    .join(Company, Company.company_id == Device.company_id)
    .join(CompanyCounter, CompanyCounter.company_id == Device.company_id)
    .where(Device.company_id == bindparam("company"), Device.token_sha256 == bindparam("token"))
)
P = ParamSpec("P")
R = TypeVar("R")


class UnknownDeviceError(AppError):
    """No token, or one that no device of ours holds."""

    status = HTTPStatus.UNAUTHORIZED

    def __init__(self, code: str, message: str) -> None:
        super().__init__(
            message,
            "Ask the foreman or the office for a code and join. Unsent work stays on the phone.",
            code=code,
        )


class RoleNotAllowedError(AppError):
    """The caller is known, but this is for other roles."""

    code = "role_not_allowed"
    status = HTTPStatus.FORBIDDEN

    def __init__(self, roles: tuple[str, ...]) -> None:
        super().__init__(f"Only {' or '.join(roles)} may do this.", "Ask the foreman or the office to do it.")


@dataclass(frozen=True, slots=True)
class Caller:
    """The device behind a request, its person and its company.

    The last five are as they stood when the request came: what the device last said about itself, the last
    number of the company's log, and the log's epoch. One query gives it all, and most calls need no other.
    """

    company_id: str
    company_name: str
    person_id: str
    name: str
    role: str
    language: str
    device_id: str
    device_name: str
    last_heard_at: datetime | None
    unsent: int
    oldest_unsent_at: datetime | None
    log_seq: int
    epoch: str


def require(*roles: str) -> Callable[[Callable[P, R]], Callable[P, R]]:
    """Let a view run only for a device that has joined and, when `roles` are given, for those roles."""

    def guard(view: Callable[P, R]) -> Callable[P, R]:
        @wraps(view)
        def guarded(*args: P.args, **kwargs: P.kwargs) -> R:
            g.caller = _identify()
            if roles and g.caller.role not in roles:
                raise RoleNotAllowedError(roles)
            return view(*args, **kwargs)

        return guarded

    return guard


def caller() -> Caller:
    """The caller of the request at work; only inside a view under `require`."""
    found: Caller = g.caller
    return found


def _identify() -> Caller:
    scheme, _, token = request.headers.get("Authorization", "").partition(" ")
    if scheme.lower() != "bearer" or not token:
        raise UnknownDeviceError("token_missing", "This needs a device that has joined.")
    company_id = company_of(token)
    if company_id is None:
        raise UnknownDeviceError("token_unknown", "This device is not known here.")
    row = glance(_CALLER, {"company": company_id, "token": token_hash(token)})
    if row is None:
        raise UnknownDeviceError("token_unknown", "This device is not known here.")
    if row.revoked_at is not None:
        raise UnknownDeviceError("device_revoked", "This device was signed out by the foreman or the office.")
    return Caller(
        company_id=company_id,
        company_name=row.company_name,
        person_id=row.person_id,
        name=row.name,
        role=row.role,
        language=row.language,
        device_id=row.device_id,
        device_name=row.device_name,
        last_heard_at=row.last_heard_at,
        unsent=row.unsent,
        oldest_unsent_at=row.oldest_unsent_at,
        log_seq=row.log_seq,
        epoch=row.epoch,
    )
