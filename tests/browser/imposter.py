"""Something that answers in the server's place: a hotel's login page, a proxy, a server that breaks off."""

import threading
from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer

LOGIN_PAGE = b"<!doctype html><title>Welcome</title><p>Accept the terms to go online.</p>"


@dataclass(frozen=True)
class Answer:
    """What every request gets. `cut` promises the whole body and sends half of it."""

    name: str
    status: int
    headers: dict[str, str] = field(default_factory=dict)
    body: bytes = b""
    cut: bool = False


HTML = {"Content-Type": "text/html"}
JSON = {"Content-Type": "application/json"}
ANSWERS = (
    Answer("login page", 200, HTML, LOGIN_PAGE),
    Answer("redirect to a login page", 302, {"Location": "/login"}),
    Answer("empty success", 204),
    Answer("foreign JSON", 200, JSON, b'{"status":"ok"}'),
    Answer("too large", 413, HTML, LOGIN_PAGE),
    Answer("broken server", 500, JSON, b'{"error":"oops"}'),
    Answer("bad gateway", 502, HTML, LOGIN_PAGE),
    Answer("cut reply", 200, JSON, b'{"accepted":["' + b"0" * 400, cut=True),
)


@contextmanager
def in_place_of_server(port: int, answer: Answer) -> Iterator[list[str]]:
    """Listens on the stopped server's port; gives the list of paths asked so far, without their queries."""
    asked: list[str] = []

    class Handler(BaseHTTPRequestHandler):
        timeout = 1  # a browser keeps spare connections open; none may outlive the imposter

        def reply(self) -> None:
            self.rfile.read(int(self.headers.get("Content-Length") or 0))
            asked.append(self.path.partition("?")[0])
            login = answer.status == 302 and self.path == "/login"
            body = LOGIN_PAGE if login else answer.body
            self.send_response(200 if login else answer.status)
            for name, value in (HTML if login else answer.headers).items():
                self.send_header(name, value)
            if answer.status != 204:
                self.send_header("Content-Length", str(len(body) * (2 if answer.cut else 1)))
            self.end_headers()
            self.wfile.write(body)

        do_GET = do_POST = do_PUT = reply  # noqa: N815 (names that http.server calls)

        def log_message(self, format: str, *args: object) -> None:
            """Stay quiet: the test speaks."""

    http = ThreadingHTTPServer(("127.0.0.1", port), Handler)
    http.daemon_threads = False  # closing waits for them
    thread = threading.Thread(target=http.serve_forever, daemon=True)
    thread.start()
    try:
        yield asked
    finally:
        http.shutdown()
        thread.join()
        http.server_close()
