"""A connection kept open that asks and waits: as little of our own work as can be beside the server's."""

import gzip
import json
import socket
from dataclasses import dataclass, field
from typing import Any


def as_asked(path: str, body: bytes, token: str, packed: bool = False) -> bytes:
    """A POST in full, ready to be sent again and again."""
    lines = (
        f"POST {path} HTTP/1.1",
        "Host: 127.0.0.1",
        f"Authorization: Bearer {token}",
        "Content-Type: application/json",
        "Accept-Encoding: gzip",
        f"Content-Length: {len(body)}",
        *(["Content-Encoding: gzip"] if packed else []),
    )
    return "\r\n".join([*lines, "", ""]).encode() + body


def length_in(head: bytes) -> int:
    """The length of the body that follows a head. Raises `AssertionError` on anything but a 200."""
    assert head.startswith(b"HTTP/1.1 200"), head
    _, _, rest = head.lower().partition(b"content-length:")
    return int(rest.split(b"\r\n", 1)[0])


@dataclass
class Wire:
    """One connection to a port of this machine."""

    port: int
    _socket: socket.socket = field(init=False)

    def __post_init__(self) -> None:
        self._socket = socket.create_connection(("127.0.0.1", self.port), timeout=60)
        self._socket.setsockopt(socket.IPPROTO_TCP, socket.TCP_NODELAY, 1)

    def ask(self, request: bytes) -> bytes:
        """Send a request whole; the answer's head and body."""
        self._socket.sendall(request)
        got = b""
        while b"\r\n\r\n" not in got:
            got += self._more()
        head, _, body = got.partition(b"\r\n\r\n")
        length = length_in(head)
        while len(body) < length:
            body += self._more()
        return gzip.decompress(body) if b"content-encoding: gzip" in head.lower() else body

    def call(self, path: str, body: dict[str, Any], token: str) -> dict[str, Any]:
        """One call with a packed body, as the phones send it."""
        request = as_asked(path, gzip.compress(json.dumps(body).encode(), 1), token, packed=True)
        found: dict[str, Any] = json.loads(self.ask(request))
        return found

    def close(self) -> None:
        self._socket.close()

    def _more(self) -> bytes:
        part = self._socket.recv(1 << 18)
        assert part, "the server closed the line"
        return part
