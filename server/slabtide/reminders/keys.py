"""The key that signs pushes (VAPID, RFC 8292): made once, kept in a file only its owner reads."""

import base64
import os
from http import HTTPStatus
from pathlib import Path

from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat
from py_vapid import Vapid, Vapid01

from slabtide.errors import AppError


class NoPushKeyError(AppError):
    """This installation has no key for pushes yet."""

    code = "push_not_set_up"
    status = HTTPStatus.SERVICE_UNAVAILABLE

    def __init__(self) -> None:
        super().__init__(
            "This server can't send notifications yet: it has no push key.",
            "Whoever runs the server: run `slabtide keys`, then restart it.",
        )


def make_key(path: Path) -> Vapid01:
    """Make a key at `path` (mode 600), or read the one that is there: phones are bound to it."""
    if not path.exists():
        path.parent.mkdir(parents=True, exist_ok=True)
        key = Vapid()
        key.generate_keys()
        with os.fdopen(os.open(path, os.O_WRONLY | os.O_CREAT | os.O_EXCL, 0o600), "wb") as file:
            file.write(key.private_pem())
    return read_key(path)


def read_key(path: Path) -> Vapid01:
    """The key at `path`. Raises: NoPushKeyError when there is none."""
    if not path.exists():
        raise NoPushKeyError
    return Vapid.from_pem(path.read_bytes())


def public_key(key: Vapid01) -> str:
    """What a browser needs to subscribe: the uncompressed public point, base64url without padding."""
    point = key.public_key.public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
    return base64.urlsafe_b64encode(point).decode().rstrip("=")
