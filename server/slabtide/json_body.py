"""Reading a request's JSON body without trusting it: its type, its size when inflated, its shape."""

from __future__ import annotations

import json
import zlib
from http import HTTPStatus
from typing import Any, NoReturn

from flask import request
from marshmallow import Schema, ValidationError

from slabtide.errors import AppError, TooLargeError

INFLATED_LIMIT_BYTES = 8 * 1024 * 1024
# The longest whole number a field of ours can hold has 16 digits; longer ones only cost time.
_MOST_DIGITS = 40


class MalformedError(AppError):
    """The body is not what this address takes; `path` names the place."""

    code = "malformed"

    def __init__(self, message: str, path: str = "") -> None:
        super().__init__(message, "Update the app and try again.", path=path)


class NotJsonError(AppError):
    """The body is not declared as JSON. Insisting on it also stops cross-site form posts."""

    code = "not_json"
    status = HTTPStatus.UNSUPPORTED_MEDIA_TYPE

    def __init__(self) -> None:
        super().__init__("The body must be JSON.", "Send it with Content-Type: application/json.")


def read_object() -> dict[str, Any]:
    """The JSON object of the request at work; gzip is inflated, to 8 MB at most. Raises `AppError`s."""
    if not request.is_json:
        raise NotJsonError
    data = _inflated(request.get_data(cache=False))
    try:
        found = json.loads(data, parse_constant=_refuse_constant, parse_int=_whole)
    except RecursionError:
        raise MalformedError("The body is nested too deeply.") from None
    except ValueError:
        raise MalformedError("The body is not valid JSON.") from None
    if not isinstance(found, dict):
        raise MalformedError("The body must be a JSON object.")
    return found


def load(schema: Schema, found: dict[str, Any]) -> dict[str, Any]:
    """`found` as `schema` reads it; raises `MalformedError` naming the first field that is wrong."""
    try:
        loaded: dict[str, Any] = schema.load(found)
    except ValidationError as error:
        path, reason = first_problem(error.messages)
        raise MalformedError(f"{path}: {reason}", path) from None
    return loaded


def first_problem(messages: Any, path: str = "") -> tuple[str, str]:
    """The first leaf of marshmallow's tree of messages: its dotted path and its words."""
    while isinstance(messages, dict) and messages:
        key, messages = next(iter(messages.items()))
        path = f"{path}.{key}" if path else str(key)
    if isinstance(messages, list) and messages:
        return first_problem(messages[0], path)
    return path, str(messages)


def _inflated(data: bytes) -> bytes:
    encoding = request.headers.get("Content-Encoding", "identity").lower()
    if encoding == "identity":
        return data
    if encoding != "gzip":
        raise MalformedError(f"The server reads gzip or plain bodies, not {encoding[:40]}.")
    inflater = zlib.decompressobj(wbits=31)
    try:
        plain = inflater.decompress(data, INFLATED_LIMIT_BYTES + 1)
    except zlib.error:
        raise MalformedError("The gzip body is damaged.") from None
    if len(plain) > INFLATED_LIMIT_BYTES:
        raise TooLargeError("The body is larger than 8 MB when unpacked.", "Send fewer events at a time.")
    if not inflater.eof or inflater.unused_data:
        raise MalformedError("The gzip body is cut short or has something after its end.")
    return plain


def _refuse_constant(text: str) -> NoReturn:
    raise ValueError(f"{text} is not JSON")


def _whole(text: str) -> int:
    if len(text) > _MOST_DIGITS:
        raise ValueError("a whole number of this length means nothing here")
    return int(text)
