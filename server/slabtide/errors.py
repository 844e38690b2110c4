"""The one shape every failure takes on its way to a person, and the handlers that give it that shape."""

from __future__ import annotations

from http import HTTPStatus
from typing import Any

from flask import Flask, Response, current_app, jsonify
from werkzeug.exceptions import HTTPException, MethodNotAllowed


class AppError(Exception):
    """A refusal that a person can act on.

    `code` is stable and the phone translates it; `message` says what happened and `do` what to do about it,
    both in plain English. `status` is the HTTP status of the answer; `retry_after_s` how long to wait, where
    waiting helps.
    """

    code = "failed"
    status = HTTPStatus.BAD_REQUEST
    retry_after_s: int | None = None

    def __init__(
        self, message: str, do: str, *, code: str | None = None, status: int | None = None, path: str = ""
    ) -> None:
        super().__init__(message)
        self.message = message
        self.do = do
        self.path = path
        if code is not None:
            self.code = code
        if status is not None:
            self.status = HTTPStatus(status)

    def as_json(self) -> dict[str, Any]:
        """The error as the wire carries it: code, message, do, and the field's path when there is one."""
        plain: dict[str, Any] = {"code": self.code, "message": self.message, "do": self.do}
        if self.path:
            plain["path"] = self.path
        return plain


class NotFoundError(AppError):
    """What was asked for is not here, or not this company's."""

    code = "not_found"
    status = HTTPStatus.NOT_FOUND


class TooLargeError(AppError):
    """The body is larger than the server will read."""

    code = "too_large"
    status = HTTPStatus.REQUEST_ENTITY_TOO_LARGE


_PLAIN: dict[int, tuple[str, str, str]] = {
    400: ("malformed", "The server could not read this request.", "Update the app and try again."),
    404: ("not_found", "There is nothing at this address.", "Check the address."),
    405: ("method_not_allowed", "This address does not take that kind of request.", "Update the app."),
    408: ("too_slow", "The request took too long to arrive.", "Try again where the signal is better."),
    413: ("too_large", "This is larger than the server will read.", "Send less at a time."),
    415: ("not_json", "The body must be JSON.", "Send it with Content-Type: application/json."),
    429: ("slow_down", "Too many requests.", "Wait a minute, then try again."),
}
_FAILED = ("server_failed", "The server failed at this. Nothing you sent is lost.", "Try again in a minute.")


def error_response(error: AppError) -> Response:
    """The JSON answer for `error`."""
    response = jsonify({"error": error.as_json()})
    response.status_code = int(error.status)
    if error.retry_after_s is not None:
        response.headers["Retry-After"] = str(error.retry_after_s)
    return response


def _http_error(error: HTTPException) -> Response:
    status = error.code or 500
    code, message, do = _PLAIN.get(status, _FAILED if status >= 500 else _PLAIN[400])
    response = error_response(AppError(message, do, code=code, status=status))
    if isinstance(error, MethodNotAllowed) and error.valid_methods:
        response.headers["Allow"] = ", ".join(sorted(error.valid_methods))
    return response


def _unexpected(error: Exception) -> Response:
    current_app.logger.error("unexpected failure", exc_info=error)
    code, message, do = _FAILED
    return error_response(AppError(message, do, code=code, status=500))


def init_app(app: Flask) -> None:
    """Answer every failure with the same JSON; an unforeseen one is logged in full and never shown."""
    app.register_error_handler(AppError, error_response)
    app.register_error_handler(HTTPException, _http_error)
    app.register_error_handler(Exception, _unexpected)
