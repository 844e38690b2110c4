"""The app as served: headers on everything, files from one folder only, errors in one shape."""

from __future__ import annotations

import gzip
from pathlib import Path
from typing import Any

import pytest
from flask import Flask
from flask.testing import FlaskClient

from slabtide.web import POLICY


@pytest.fixture
def web(home: Path) -> Path:
    """A built app of a few files."""
    folder = home / "web"
    (folder / "assets").mkdir(parents=True)
    (folder / "index.html").write_text("<!doctype html><title>Slabtide</title>")
    (folder / "sw.js").write_text("self.addEventListener('push', () => {})")
    (folder / "manifest.webmanifest").write_text("{}")
    (folder / "assets" / "page-3f2a.js").write_text("export {}")
    (folder / "assets" / "page-3f2a.js.gz").write_bytes(gzip.compress(b"export {}"))
    (home / "secret.txt").write_text("secret")
    return folder


@pytest.mark.parametrize("path", ["/", "/sw.js", "/manifest.webmanifest"])
def test_what_starts_the_app_is_never_kept_without_asking(client: FlaskClient, web: Path, path: str) -> None:
    response = client.get(path, buffered=True)
    assert response.status_code == 200
    assert response.headers["Cache-Control"] == "no-cache"
    again = client.get(path, headers={"If-None-Match": response.headers["ETag"]}, buffered=True)
    assert again.status_code == 304


def test_named_assets_are_kept_for_ever_and_sent_packed(client: FlaskClient, web: Path) -> None:
    plain = client.get("/assets/page-3f2a.js", buffered=True)
    packed = client.get("/assets/page-3f2a.js", headers={"Accept-Encoding": "gzip"}, buffered=True)
    assert "immutable" in plain.headers["Cache-Control"]
    assert packed.headers["Content-Encoding"] == "gzip"
    assert gzip.decompress(packed.data) == plain.data
    assert packed.mimetype == plain.mimetype == "text/javascript"


@pytest.mark.parametrize(
    ("name", "kind"),
    [
        ("index.html", "text/html"),
        ("sw.js", "text/javascript"),
        ("manifest.webmanifest", "application/manifest+json"),
        ("engine.wasm", "application/wasm"),
        ("mark.svg", "image/svg+xml"),
        ("what.ever", "application/octet-stream"),
    ],
)
def test_a_file_is_labelled_by_our_own_table(client: FlaskClient, web: Path, name: str, kind: str) -> None:
    (web / name).touch()
    assert client.get(f"/{name}", buffered=True).mimetype == kind


@pytest.mark.parametrize("path", ["/", "/sw.js", "/nothing", "/api/health", "/api/nothing", "/api/devices"])
def test_every_answer_carries_the_policy(client: FlaskClient, web: Path, path: str) -> None:
    headers = client.get(path, buffered=True).headers
    assert headers["Content-Security-Policy"] == POLICY
    assert headers["X-Content-Type-Options"] == "nosniff"


def test_the_policy_allows_nothing_from_elsewhere() -> None:
    assert "default-src 'none'" in POLICY
    assert not {"'unsafe-inline'", "'unsafe-eval'", "http:", "https:", "data:", "*"} & set(
        POLICY.replace(";", " ").split()
    )


@pytest.mark.parametrize(
    "path", ["/../secret.txt", "/..%2fsecret.txt", "/assets/..%2f..%2fsecret.txt", "/%2fsecret.txt"]
)
def test_no_file_outside_the_folder_is_served(client: FlaskClient, web: Path, path: str) -> None:
    response = client.get(path, buffered=True)
    assert b"secret" not in response.data
    assert response.status_code in (308, 404)


def test_without_a_built_app_the_page_says_what_to_run(client: FlaskClient) -> None:
    response = client.get("/", buffered=True)
    assert response.status_code == 503
    assert "npm run build" in response.text


ERRORS = [
    ("GET", "/api/nothing", 404, "not_found"),
    ("GET", "/nothing.js", 404, "not_found"),
    ("GET", "/api/join", 405, "method_not_allowed"),
    ("DELETE", "/api/sync", 405, "method_not_allowed"),
    ("POST", "/api/join", 415, "not_json"),
]


@pytest.mark.parametrize(("method", "path", "status", "code"), ERRORS)
def test_every_error_has_the_same_shape(
    client: FlaskClient, web: Path, method: str, path: str, status: int, code: str
) -> None:
    response = client.open(path, method=method, buffered=True)
    error: dict[str, Any] = response.get_json()["error"]
    assert (response.status_code, error["code"]) == (status, code)
    assert error["message"]
    assert error["do"]
    assert status != 405 or response.headers["Allow"]


def test_a_failure_nobody_foresaw_is_logged_and_never_shown(
    app: Flask, caplog: pytest.LogCaptureFixture, monkeypatch: pytest.MonkeyPatch
) -> None:
    def broken() -> str:
        raise RuntimeError("SECRET in the works")

    monkeypatch.setitem(app.view_functions, "health", broken)
    response = app.test_client().get("/api/health")
    assert (response.status_code, response.get_json()["error"]["code"]) == (500, "server_failed")
    assert "SECRET" not in response.text
    assert "SECRET in the works" in caplog.text
