"""A push service of our own on the loopback interface: it decrypts what arrives and checks the signature."""

import base64
import json
import threading
import time
from collections.abc import Callable
from dataclasses import dataclass, field
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

import http_ece
from cryptography.hazmat.primitives.asymmetric import ec
from cryptography.hazmat.primitives.asymmetric.utils import encode_dss_signature
from cryptography.hazmat.primitives.hashes import SHA256
from cryptography.hazmat.primitives.serialization import Encoding, PublicFormat


def unpadded(data: bytes) -> str:
    return base64.urlsafe_b64encode(data).decode().rstrip("=")


def padded(text: str) -> bytes:
    return base64.urlsafe_b64decode(text + "=" * (-len(text) % 4))


@dataclass
class Phone:
    """The key pair and secret a browser makes when it subscribes."""

    name: str
    key: ec.EllipticCurvePrivateKey = field(default_factory=lambda: ec.generate_private_key(ec.SECP256R1()))
    secret: bytes = b"sixteen byte key"

    @property
    def keys(self) -> dict[str, str]:
        point = self.key.public_key().public_bytes(Encoding.X962, PublicFormat.UncompressedPoint)
        return {"p256dh": unpadded(point), "auth": unpadded(self.secret)}


@dataclass(frozen=True)
class Arrived:
    """One request as the push service saw it."""

    phone: str
    headers: dict[str, str]
    message: dict[str, Any]
    claims: dict[str, Any]
    wire_bytes: int
    answered: int


Answer = Callable[[str], tuple[int, dict[str, str]]]


class Listener(ThreadingHTTPServer):
    """Takes many callers at once; the usual queue of five makes the sixth wait for a second."""

    request_queue_size = 128
    daemon_threads = False


class PushService:
    """Answers 201 unless `answer(phone)` says otherwise; a status of 0 hangs until the service is closed."""

    def __init__(self) -> None:
        self.phones: dict[str, Phone] = {}
        self.arrived: list[Arrived] = []
        self.answer: Answer = lambda phone: (201, {})
        self.closing = threading.Event()
        service = self

        class Handler(BaseHTTPRequestHandler):
            def do_POST(self) -> None:
                service._take(self)

            def log_message(self, *args: Any) -> None:
                pass

        self.server = Listener(("127.0.0.1", 0), Handler)
        self.thread = threading.Thread(target=self.server.serve_forever, args=(0.02,))
        self.thread.start()

    @property
    def origin(self) -> str:
        return f"http://127.0.0.1:{self.server.server_port}"

    def phone(self, name: str) -> Phone:
        return self.phones.setdefault(name, Phone(name))

    def subscription(self, name: str) -> dict[str, Any]:
        return {"endpoint": f"{self.origin}/{name}", "keys": self.phone(name).keys}

    def close(self) -> None:
        self.closing.set()
        self.server.shutdown()
        self.thread.join()
        self.server.server_close()

    def _take(self, request: BaseHTTPRequestHandler) -> None:
        name = request.path.strip("/")
        promised = int(request.headers["Content-Length"])
        data = request.rfile.read(promised)
        if len(data) < promised:  # the sender was killed in the middle: nothing arrived
            request.close_connection = True
            return
        status, headers = self.answer(name)
        phone = self.phones[name]
        plain = http_ece.decrypt(data, private_key=phone.key, auth_secret=phone.secret, version="aes128gcm")
        claims = signed_claims(request.headers["Authorization"])
        seen = {key.lower(): value for key, value in request.headers.items()}
        self.arrived.append(Arrived(name, seen, json.loads(plain), claims, len(data), status))
        if status == 0:
            self.closing.wait(60)
            return
        request.send_response(status)
        for key, value in headers.items():
            request.send_header(key, value)
        request.send_header("Content-Length", "0")
        request.end_headers()


def signed_claims(authorization: str) -> dict[str, Any]:
    """The claims of a VAPID header, once its ES256 signature holds against the key it names."""
    scheme, _, rest = authorization.partition(" ")
    assert scheme == "vapid"
    parts = dict(part.strip().split("=", 1) for part in rest.split(","))
    head, body, signature = parts["t"].split(".")
    raw = padded(signature)
    der = encode_dss_signature(int.from_bytes(raw[:32], "big"), int.from_bytes(raw[32:], "big"))
    key = ec.EllipticCurvePublicKey.from_encoded_point(ec.SECP256R1(), padded(parts["k"]))
    key.verify(der, f"{head}.{body}".encode(), ec.ECDSA(SHA256()))
    claims: dict[str, Any] = json.loads(padded(body))
    assert time.time() < claims["exp"] <= time.time() + 24 * 3600
    return claims
