"""What the environment decides. Read once at start; a wrong value stops the start with words that say so."""

from __future__ import annotations

import os
from collections.abc import Mapping
from dataclasses import dataclass
from ipaddress import ip_address
from pathlib import Path
from urllib.parse import urlsplit

from flask import Flask, current_app

KEY = "slabtide.config"
_SOURCE_TREE_WEB = Path(__file__).resolve().parents[2] / "pwa" / "dist"


class ConfigError(ValueError):
    """An environment variable holds something the product cannot work with."""


@dataclass(frozen=True)
class Config:
    """Every setting of an installation, with units in the names."""

    home: Path
    database_url: str
    host: str = "127.0.0.1"
    port: int = 8321
    base_url: str | None = None
    push_contact: str | None = None
    push_hosts: tuple[str, ...] = ()
    invite_minutes: int = 10
    tick_seconds: float = 2.0
    web_dir: Path = _SOURCE_TREE_WEB
    trusted_proxies: int = 0
    threads: int = 8
    forecast_us_url: str | None = None
    forecast_world_url: str | None = None

    @property
    def own_url(self) -> str:
        """The address people see: `base_url`, or else where the server listens."""
        everywhere = self.host in ("0.0.0.0", "::", "")
        return self.base_url or f"http://{'127.0.0.1' if everywhere else self.host}:{self.port}"

    @property
    def photo_dir(self) -> Path:
        """Where re-encoded photos lie."""
        return self.home / "photos"

    @property
    def vapid_key_file(self) -> Path:
        """The private key that signs pushes; made by `slabtide keys`, readable by its owner only."""
        return self.home / "keys" / "vapid.pem"

    @classmethod
    def from_environment(cls, environment: Mapping[str, str] | None = None) -> Config:
        """The settings in `environment` (the process's own when left out). Raises `ConfigError`."""
        env = os.environ if environment is None else environment
        home = Path(env.get("SLABTIDE_HOME") or "var").absolute()
        return cls(
            home=home,
            database_url=env.get("SLABTIDE_DATABASE_URL") or f"sqlite:///{home / 'slabtide.db'}",
            host=env.get("SLABTIDE_HOST") or "127.0.0.1",
            port=_whole(env, "SLABTIDE_PORT", 8321, 1, 65535),
            base_url=_base_url(env.get("SLABTIDE_BASE_URL")),
            push_contact=_contact(env.get("SLABTIDE_PUSH_CONTACT")),
            push_hosts=tuple(
                part.strip() for part in env.get("SLABTIDE_PUSH_HOSTS", "").split(",") if part.strip()
            ),
            invite_minutes=_whole(env, "SLABTIDE_INVITE_MINUTES", 10, 1, 60 * 24 * 7),
            tick_seconds=_number(env, "SLABTIDE_TICK_SECONDS", 2.0, 0.1, 3600.0),
            web_dir=Path(env.get("SLABTIDE_WEB_DIR") or _SOURCE_TREE_WEB).absolute(),
            trusted_proxies=_whole(env, "SLABTIDE_TRUSTED_PROXIES", 0, 0, 5),
            threads=_whole(env, "SLABTIDE_THREADS", 8, 1, 64),
            forecast_us_url=_forecast_url(env, "SLABTIDE_FORECAST_US_URL"),
            forecast_world_url=_forecast_url(env, "SLABTIDE_FORECAST_WORLD_URL"),
        )


def config_of(app: Flask) -> Config:
    """The settings `app` was made with."""
    config: Config = app.extensions[KEY]
    return config


def current_config() -> Config:
    """The settings of the application at work."""
    return config_of(current_app)


def _number(env: Mapping[str, str], name: str, default: float, low: float, high: float) -> float:
    text = env.get(name)
    if not text:
        return default
    try:
        value = float(text)
    except ValueError:
        raise ConfigError(f"{name} is {text!r}: give a number from {low:g} to {high:g}.") from None
    if not low <= value <= high:
        raise ConfigError(f"{name} is {text}: give a number from {low:g} to {high:g}.")
    return value


def _whole(env: Mapping[str, str], name: str, default: int, low: int, high: int) -> int:
    value = _number(env, name, default, low, high)
    if value != int(value):
        raise ConfigError(f"{name} is {env[name]}: give a whole number.")
    return int(value)


def _base_url(text: str | None) -> str | None:
    if not text:
        return None
    if not text.startswith(("http://", "https://")):
        raise ConfigError(
            f"SLABTIDE_BASE_URL is {text!r}: start it with https:// (or http:// on one machine)."
        )
    return text.rstrip("/")


def _contact(text: str | None) -> str | None:
    if not text:
        return None
    if not text.startswith(("mailto:", "https://")) or text.endswith("@localhost"):
        raise ConfigError(
            f"SLABTIDE_PUSH_CONTACT is {text!r}: push services want mailto:someone@your-domain "
            "or an https address."
        )
    return text


def _forecast_url(env: Mapping[str, str], name: str) -> str | None:
    """Where a forecast is asked: https, or http on this very machine; empty is off."""
    text = (env.get(name) or "").strip()
    if not text:
        return None
    try:
        parts = urlsplit(text)
        host, odd = parts.hostname or "", parts.username or parts.password or parts.query or parts.fragment
        port_is_one = parts.port is None or parts.port > 0
    except ValueError:
        host, odd, port_is_one = "", None, False
    safe = parts.scheme == "https" or (parts.scheme == "http" and _is_here(host)) if host else False
    if not safe or odd or not port_is_one:
        raise ConfigError(f"{name} is {text!r}: give an https:// address without user, query or fragment.")
    return text.rstrip("/")


def _is_here(host: str) -> bool:
    try:
        return host == "localhost" or ip_address(host).is_loopback
    except ValueError:
        return False
