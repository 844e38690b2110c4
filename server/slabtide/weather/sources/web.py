"""One careful GET: allowed hosts alone, ten seconds in all, a body of limited size, no redirects."""

import ssl
import threading
import zlib
from collections.abc import Iterator, Mapping, Sequence
from contextlib import contextmanager, suppress
from dataclasses import dataclass
from datetime import UTC, datetime, timedelta
from email.utils import parsedate_to_datetime
from http.client import HTTPConnection, HTTPException, HTTPResponse, HTTPSConnection
from socket import SHUT_RDWR, socket
from urllib.parse import urlsplit

from slabtide.weather.sources.contract import Marks, SourceError, UnreachableError

TIMEOUT_S = 10.0
MOST_BYTES = 4 * 1024 * 1024
GOOD_FOR_AT_LEAST, GOOD_FOR_AT_MOST, GOOD_FOR = timedelta(minutes=10), timedelta(hours=3), timedelta(hours=1)
_CHUNK = 64 * 1024


@dataclass(frozen=True, slots=True)
class Answer:
    """A status of 200, 304 or 404, the body unpacked, headers by lower-case name."""

    status: int
    body: bytes
    headers: Mapping[str, str]

    @property
    def marks(self) -> Marks:
        """The validators of this answer."""
        return Marks(self.headers.get("etag"), self.headers.get("last-modified"))

    def good_for(self, now: datetime) -> timedelta:
        """How long the answer may be kept by its own headers, within 10 min and 3 h; an hour by default."""
        age = _max_age(self.headers.get("cache-control", ""))
        expires = _moment(self.headers.get("expires"))
        if age is None and expires is not None:
            age = expires - (_moment(self.headers.get("date")) or now)
        return min(max(age or GOOD_FOR, GOOD_FOR_AT_LEAST), GOOD_FOR_AT_MOST)


class Web:
    """Asks the hosts of `addresses` and no other. `agent`: who we are and how to reach us."""

    def __init__(self, agent: str, addresses: Sequence[str], timeout_s: float = TIMEOUT_S) -> None:
        self.agent = agent
        self.timeout_s = timeout_s
        self._allowed = {(parts.scheme, parts.netloc) for parts in map(urlsplit, addresses)}
        self._asking: dict[HTTPConnection, socket | None] = {}
        self._lock = threading.Lock()
        self._stopped = threading.Event()

    def get(self, url: str, marks: Marks = Marks()) -> Answer:  # noqa: B008  (frozen)
        """Ask once. Raises: SourceError."""
        parts = urlsplit(url)
        if (parts.scheme, parts.netloc) not in self._allowed:
            raise SourceError(f"points to {parts.netloc}, which is not allowed")
        target = parts.path + (f"?{parts.query}" if parts.query else "")
        connection = _connection(parts.scheme, parts.netloc, self.timeout_s)
        try:
            with self._cut_off(connection) as late:
                answer = self._ask(connection, target, marks)
                if late.is_set():
                    raise UnreachableError(self._too_slow())
        except (OSError, HTTPException) as error:
            raise UnreachableError(self._plainly(error, late.is_set())) from error
        return answer

    def stop(self) -> None:
        """End what is under way, and answer nothing more."""
        self._stopped.set()
        with self._lock:
            under_way = tuple(self._asking)
        for connection in under_way:
            self._shut(connection)

    def _ask(self, connection: HTTPConnection, target: str, marks: Marks) -> Answer:
        headers = {"User-Agent": self.agent, "Accept": "application/json", "Accept-Encoding": "gzip"}
        if marks.etag:
            headers["If-None-Match"] = marks.etag
        if marks.last_modified:
            headers["If-Modified-Since"] = marks.last_modified
        connection.connect()
        with self._lock:
            # Kept apart: a connection lets go of its socket while the body of its last answer is still read.
            self._asking[connection] = connection.sock
        connection.request("GET", target, headers=headers)
        with connection.getresponse() as response:
            answered = {name.lower(): value for name, value in response.getheaders()}
            if response.status not in (200, 304, 404):
                raise _refused(response.status, answered)
            return Answer(response.status, _body(response, answered), answered)

    @contextmanager
    def _cut_off(self, connection: HTTPConnection) -> Iterator[threading.Event]:
        """A socket's own timeout begins anew with each byte: this one does not."""
        late, done = threading.Event(), threading.Event()

        def watch() -> None:
            if not done.wait(self.timeout_s):
                late.set()
                while not done.wait(0.2):  # while it still connects there is no socket to shut
                    self._shut(connection)

        if self._stopped.is_set():
            raise UnreachableError("is no longer asked")
        watcher = threading.Thread(target=watch, name="forecast-watch", daemon=True)
        with self._lock:
            self._asking[connection] = None
        watcher.start()
        try:
            yield late
        finally:
            done.set()
            with self._lock:
                self._asking.pop(connection, None)
            connection.close()
            watcher.join()

    def _shut(self, connection: HTTPConnection) -> None:
        with self._lock:
            sock = self._asking.get(connection)
        with suppress(OSError, AttributeError):
            (sock or connection.sock).shutdown(SHUT_RDWR)

    def _plainly(self, error: Exception, late: bool) -> str:
        if self._stopped.is_set():
            return "is no longer asked"
        if late or isinstance(error, TimeoutError):
            return self._too_slow()
        if isinstance(error, ssl.SSLError):
            return "has a certificate that is not trusted"
        return "can't be reached"

    def _too_slow(self) -> str:
        return f"gave no answer within {self.timeout_s:g} s"


def _connection(scheme: str, netloc: str, timeout_s: float) -> HTTPConnection:
    wait_s = timeout_s / 2
    if scheme == "https":
        return HTTPSConnection(netloc, timeout=wait_s, context=ssl.create_default_context())
    return HTTPConnection(netloc, timeout=wait_s)


def _body(response: HTTPResponse, headers: Mapping[str, str]) -> bytes:
    packed = headers.get("content-encoding", "identity").lower()
    if packed not in ("identity", "gzip", ""):
        raise SourceError(f"answered in a packing that was not asked for ({packed[:20]})")
    inflater = zlib.decompressobj(wbits=31) if packed == "gzip" else None
    body = bytearray()
    while chunk := response.read(_CHUNK):
        try:
            body += inflater.decompress(chunk, MOST_BYTES + 1 - len(body)) if inflater else chunk
        except zlib.error as error:
            raise SourceError("answered with a damaged body") from error
        if len(body) > MOST_BYTES:
            raise SourceError(f"answered with more than {MOST_BYTES // 1024 // 1024} MB")
    if inflater is not None and body and not inflater.eof:
        raise SourceError("answered with a body cut short")
    return bytes(body)


def _refused(status: int, headers: Mapping[str, str]) -> SourceError:
    wanted = headers.get("retry-after", "")
    wait = timedelta(seconds=min(int(wanted), 86_400)) if wanted.isdecimal() and len(wanted) < 7 else None
    if 300 <= status < 400:
        return SourceError("points to another address")
    if status == 429:
        return SourceError("asks us to slow down", retry_after=wait)
    return SourceError(f"answered with an error ({status})", retry_after=wait)


def _max_age(control: str) -> timedelta | None:
    for part in control.lower().split(","):
        name, _, value = part.strip().partition("=")
        if name in ("max-age", "s-maxage") and value.isdecimal() and len(value) < 9:
            return timedelta(seconds=int(value))
    return None


def _moment(text: str | None) -> datetime | None:
    try:
        found = parsedate_to_datetime(text) if text else None
    except ValueError:
        return None
    return found.replace(tzinfo=found.tzinfo or UTC) if found else None
