"""What the addresses of this room take: strict, unknown fields refused by name."""

from __future__ import annotations

from typing import Any

from marshmallow import Schema, ValidationError, fields
from marshmallow.validate import Length, OneOf

from slabtide.people.access import ROLES

LANGUAGES = ("en", "es")


class Name(fields.String):
    """A name someone typed: trimmed, 1 to 80 characters, nothing that can't be stored or seen."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> str:
        text = " ".join(super()._deserialize(value, attr, data, **kwargs).split())
        if not 1 <= len(text) <= 80:
            raise ValidationError("Write 1 to 80 characters.")
        if not text.isprintable():
            raise ValidationError("Holds a character that can't be shown. Type it again.")
        return text


class JoinRequest(Schema):
    """POST /api/join."""

    code = fields.String(required=True, validate=Length(max=40))
    person_name = Name(required=True)
    device_name = Name(required=True)
    language = fields.String(load_default="en", validate=OneOf(LANGUAGES))


class InviteRequest(Schema):
    """POST /api/invites. `person` is the id of someone already in the company."""

    role = fields.String(required=True, validate=OneOf(ROLES))
    person_name = Name(allow_none=True, load_default=None)
    person = fields.String(allow_none=True, load_default=None, validate=Length(max=36))


class MeRequest(Schema):
    """PUT /api/me."""

    language = fields.String(required=True, validate=OneOf(LANGUAGES))
