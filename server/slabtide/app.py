"""The application: settings in, wired rooms out. Nothing happens on import."""

from __future__ import annotations

from datetime import UTC, datetime
from importlib.metadata import version

from flask import Flask, jsonify
from flask.typing import ResponseReturnValue
from werkzeug.middleware.proxy_fix import ProxyFix

from slabtide import errors, office, people, reminders, sync, weather, web
from slabtide.config import KEY, Config
from slabtide.store import database, migrated
from slabtide.store.meta import epoch

BODY_LIMIT_BYTES = 8 * 1024 * 1024


def create_app(config: Config | None = None, *, check_database: bool = True) -> Flask:
    """Wire an application from `config` (from the environment when left out).

    Raises `ConfigError` on a setting that can't be used and `NotMigratedError` when the database is not at
    the version this code was written for; `check_database=False` is for the command that migrates it.
    """
    app = Flask("slabtide", static_folder=None)
    app.extensions[KEY] = config or Config.from_environment()
    app.config["MAX_CONTENT_LENGTH"] = BODY_LIMIT_BYTES
    app.json.sort_keys = False  # type: ignore[attr-defined]  # the provider Flask installs has it
    _trust_proxies(app)
    errors.init_app(app)
    database.init_app(app)
    for room in (people, sync, weather, reminders, office):
        room.init_app(app)
    app.add_url_rule("/api/health", "health", health)
    web.init_app(app)
    if check_database:
        migrated.require(app)
    return app


def health() -> ResponseReturnValue:
    """Whether the server is up, which epoch its log is in and which version it runs."""
    now = datetime.now(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")
    return jsonify(ok=True, epoch=epoch(), version=version("slabtide"), server_time=now)


def _trust_proxies(app: Flask) -> None:
    config: Config = app.extensions[KEY]
    if config.trusted_proxies:
        count = config.trusted_proxies
        app.wsgi_app = ProxyFix(app.wsgi_app, x_for=count, x_proto=count, x_host=count)  # type: ignore[method-assign]
