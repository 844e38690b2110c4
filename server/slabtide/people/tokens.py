"""Device tokens: who is calling, from 384 bits that only the device keeps.

A token is URL-safe base64 of the company's 16 bytes and 32 random ones. The company in front lets the table
be split by company; only the SHA-256 of the whole is stored, which is enough for 256 random bits.
"""

from __future__ import annotations

import hashlib
import secrets
import uuid
from base64 import urlsafe_b64decode, urlsafe_b64encode

_COMPANY_BYTES = 16
_SECRET_BYTES = 32
TOKEN_LENGTH = (_COMPANY_BYTES + _SECRET_BYTES) * 4 // 3


def new_token(company_id: str) -> str:
    """A fresh token for a device of `company_id`."""
    raw = uuid.UUID(company_id).bytes + secrets.token_bytes(_SECRET_BYTES)
    return urlsafe_b64encode(raw).decode("ascii")


def token_hash(token: str) -> str:
    """What the database keeps of `token`."""
    return hashlib.sha256(token.encode("utf-8", "surrogatepass")).hexdigest()


def company_of(token: str) -> str | None:
    """The company a token names, or None when the text is no token. Says nothing about its being valid."""
    if len(token) != TOKEN_LENGTH or not token.isascii():
        return None
    try:
        raw = urlsafe_b64decode(token)
    except ValueError:
        return None
    if len(raw) != _COMPANY_BYTES + _SECRET_BYTES:
        return None
    return str(uuid.UUID(bytes=raw[:_COMPANY_BYTES]))
