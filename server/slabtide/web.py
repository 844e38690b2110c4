"""The built phone app, served beside the API with the headers it needs."""

from __future__ import annotations

from pathlib import Path

from flask import Flask, Response, current_app, request, send_from_directory
from flask.typing import ResponseReturnValue
from werkzeug.exceptions import MethodNotAllowed, NotFound

from slabtide.config import current_config

POLICY = "; ".join(
    (
        "default-src 'none'",
        "script-src 'self' 'wasm-unsafe-eval'",
        "worker-src 'self'",
        "connect-src 'self'",
        "manifest-src 'self'",
        "img-src 'self' blob:",
        "style-src 'self'",
        "font-src 'self'",
        "object-src 'none'",
        "base-uri 'none'",
        "frame-ancestors 'none'",
        "form-action 'self'",
    )
)
HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "Referrer-Policy": "no-referrer",
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "geolocation=(self), camera=(self), microphone=()",
}
# A machine's own table of types may lack or change these, and `nosniff` makes a browser refuse a wrong one.
TYPES = {
    ".html": "text/html; charset=utf-8",
    ".js": "text/javascript; charset=utf-8",
    ".mjs": "text/javascript; charset=utf-8",
    ".css": "text/css; charset=utf-8",
    ".json": "application/json",
    ".webmanifest": "application/manifest+json",
    ".wasm": "application/wasm",
    ".svg": "image/svg+xml",
    ".png": "image/png",
    ".ico": "image/x-icon",
    ".woff2": "font/woff2",
    ".zip": "application/zip",
    ".py": "text/plain; charset=utf-8",
}
HASHED = ("assets/", "engine/")  # folders whose files have the hash of their bytes in their address
IMMUTABLE = "public, max-age=31536000, immutable"
NOT_BUILT = """<!doctype html><html lang="en"><meta charset="utf-8"><title>Slabtide</title>
<h1>The phone app is not built yet</h1>
<p>The server is running. Build the app once, then load this page again:</p>
<pre>cd pwa
npm install
npm run build</pre>
<p>Or point SLABTIDE_WEB_DIR at a folder that holds a built app.</p></html>"""


def init_app(app: Flask) -> None:
    """Serve the app at every address the API does not take, and put the safety headers on every answer."""
    app.add_url_rule("/", "web_index", index)
    app.add_url_rule("/<path:name>", "web_file", web_file)
    app.after_request(_add_headers)


def index() -> ResponseReturnValue:
    """The page that starts the app, or what to run when it is not built."""
    if not (current_config().web_dir / "index.html").is_file():
        return Response(NOT_BUILT, status=503, content_type="text/html; charset=utf-8")
    return _send("index.html")


def web_file(name: str) -> ResponseReturnValue:
    """A file of the built app. An address below /api is never a file, but may be one that wants a POST."""
    if name == "api" or name.startswith("api/"):
        other = set(current_app.url_map.bind("").allowed_methods(request.path)) - {"GET", "HEAD", "OPTIONS"}
        raise MethodNotAllowed(valid_methods=sorted(other)) if other else NotFound
    return _send(name)


def _send(name: str) -> Response:
    folder = current_config().web_dir
    packed = f"{name}.gz"
    use_packed = request.accept_encodings["gzip"] > 0 and (folder / packed).is_file() and not _is_hidden(name)
    response = send_from_directory(folder, packed if use_packed else name, conditional=True, etag=True)
    response.headers["Content-Type"] = TYPES.get(Path(name).suffix, "application/octet-stream")
    if use_packed:
        response.headers["Content-Encoding"] = "gzip"
    response.headers["Vary"] = "Accept-Encoding"
    response.headers["Cache-Control"] = IMMUTABLE if name.startswith(HASHED) else "no-cache"
    return response


def _is_hidden(name: str) -> bool:
    return any(part.startswith(".") for part in Path(name).parts)


def _add_headers(response: Response) -> Response:
    wanted = HEADERS
    if request.is_secure:
        wanted = wanted | {"Strict-Transport-Security": "max-age=31536000"}
    if request.path.startswith("/api/"):
        wanted = wanted | {"Cache-Control": "no-store"}
    # One look at what is there: `setdefault` looks through all of it for each, on every call of every phone.
    there = {name.lower() for name, _ in response.headers}
    for name, text in wanted.items():
        if name.lower() not in there:
            response.headers.add(name, text)
    return response
