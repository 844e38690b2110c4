"""A push service on the loopback: takes what the server sends, and opens it as a phone's browser would."""

import base64
import json
import queue
import threading
from dataclasses import dataclass
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any
from urllib.parse import urlsplit

import http_ece
from cryptography.hazmat.primitives import hashes
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat

AUTH_SECRET = b"sixteen-bytes-ok"


def to_base64url(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).rstrip(b"=").decode()


def from_base64url(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


@dataclass(frozen=True)
class Sent:
    """One request as the push service got it: header names in lower case, the body still encrypted."""

    path: str
    headers: dict[str, str]
    body: bytes


class PushService:
    """Runs in a thread of the test; `status` is what the next senders are answered."""

    def __init__(self) -> None:
        self.status = 201
        self.arrived: queue.Queue[Sent] = queue.Queue()
        self._key = ec.generate_private_key(ec.SECP256R1())
        service = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                body = self.rfile.read(int(self.headers["Content-Length"]))
                headers = {name.lower(): value for name, value in self.headers.items()}
                service.arrived.put(Sent(self.path, headers, body))
                self.send_response(service.status)
                self.send_header("Content-Length", "0")
                self.end_headers()

            def log_message(self, format: str, *args: object) -> None:
                """Stay quiet: the test speaks."""

        self._http = ThreadingHTTPServer(("127.0.0.1", 0), Handler)
        self._thread = threading.Thread(target=self._http.serve_forever, daemon=True)
        self._thread.start()
        self.origin = f"http://127.0.0.1:{self._http.server_port}"

    def close(self) -> None:
        self._http.shutdown()
        self._thread.join()
        self._http.server_close()

    def subscription(self, phone: str) -> dict[str, Any]:
        """What a browser's `PushSubscription.toJSON()` would hold for this phone."""
        point = self._key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
        keys = {"p256dh": to_base64url(point), "auth": to_base64url(AUTH_SECRET)}
        return {"endpoint": f"{self.origin}/push/{phone}", "keys": keys}

    def next(self, within_s: float) -> Sent:
        """The next request to arrive; `queue.Empty` when none does."""
        return self.arrived.get(timeout=within_s)

    def opened(self, sent: Sent) -> dict[str, Any]:
        """Decrypts a message (RFC 8291, aes128gcm) and reads its JSON."""
        plain = http_ece.decrypt(
            sent.body, private_key=self._key, auth_secret=AUTH_SECRET, version="aes128gcm"
        )
        return json.loads(plain)  # type: ignore[no-any-return]

    def sender_of(self, sent: Sent) -> dict[str, Any]:
        """The claims of the sender's signed token (RFC 8292); raises `InvalidSignature` when forged."""
        scheme, _, parameters = sent.headers["authorization"].partition(" ")
        assert scheme == "vapid"
        fields = dict(part.strip().split("=", 1) for part in parameters.split(","))
        signed, _, signature = fields["t"].rpartition(".")
        raw = from_base64url(signature)
        der = encode_dss_signature(int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
        point = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), from_base64url(fields["k"]))
        point.verify(der, signed.encode(), ec.ECDSA(hashes.SHA256()))
        claims = json.loads(from_base64url(signed.split(".")[1]))
        assert claims["aud"] == f"{urlsplit(self.origin).scheme}://{urlsplit(self.origin).netloc}"
        return claims  # type: ignore[no-any-return]
