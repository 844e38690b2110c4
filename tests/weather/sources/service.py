"""A forecast service of our own on the loopback interface, answering in the published shapes."""

import gzip
import json
import threading
from collections.abc import Callable
from contextlib import suppress
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from http.server import BaseHTTPRequestHandler, ThreadingHTTPServer
from typing import Any

HOUR = timedelta(hours=1)
Answer = Callable[["Asked"], None]


class Asked(BaseHTTPRequestHandler):
    """One request; `tell` answers it."""

    service: "ForecastService"

    def do_GET(self) -> None:
        self.service.seen.append((self.path, {name.lower(): value for name, value in self.headers.items()}))
        with suppress(BrokenPipeError, ConnectionResetError):  # the caller had enough
            self.service.answer(self)

    def tell(self, body: Any, status: int = 200, *, packed: bool = False, **headers: str) -> None:
        """Answer with JSON, or with bytes as they are. Header names: `_` stands for `-`."""
        data = body if isinstance(body, bytes) else json.dumps(body).encode()
        data = gzip.compress(data) if packed else data
        self.send_response(status)
        if packed:
            self.send_header("Content-Encoding", "gzip")
        for name, value in headers.items():
            self.send_header(name.replace("_", "-"), value)
        self.send_header("Content-Length", str(len(data)))
        self.end_headers()
        self.wfile.write(data)

    def log_message(self, *args: Any) -> None:
        pass


@dataclass
class ForecastService:
    """Answers by `answer`; `seen` holds (path, headers) of every request."""

    answer: Answer
    seen: list[tuple[str, dict[str, str]]] = field(default_factory=list)
    closing: threading.Event = field(default_factory=threading.Event)

    def __post_init__(self) -> None:
        handler = type("Handler", (Asked,), {"service": self})
        self.server = ThreadingHTTPServer(("127.0.0.1", 0), handler)
        self.server.daemon_threads = True
        self.thread = threading.Thread(target=self.server.serve_forever, args=(0.05,))
        self.thread.start()

    @property
    def address(self) -> str:
        return f"http://127.0.0.1:{self.server.server_address[1]}"

    @property
    def paths(self) -> list[str]:
        return [path for path, _ in self.seen]

    def close(self) -> None:
        self.closing.set()
        self.server.shutdown()
        self.thread.join()
        self.server.server_close()


POINT = {
    "type": "Feature",
    "geometry": {"type": "Point", "coordinates": [-79.95, 36.1]},
    "properties": {
        "@type": "wx:Point",
        "gridId": "RAH",
        "gridX": 22,
        "gridY": 64,
        "forecastGridData": "https://somewhere.invalid/gridpoints/RAH/22,64",
        "timeZone": "America/New_York",
    },
}


def layer(uom: str, *values: tuple[datetime, str, float | None]) -> dict[str, Any]:
    return {
        "uom": f"wmoUnit:{uom}",
        "values": [
            {"validTime": f"{at.isoformat(timespec='seconds')}/{length}", "value": value}
            for at, length, value in values
        ],
    }


def grid(first: datetime, hours: int = 120, air_c: float = 24.0, **changed: Any) -> dict[str, Any]:
    """A gridpoint answer from `first` on: air by the hour, the rest in longer spells."""
    spell = f"PT{hours}H"
    layers: dict[str, Any] = {
        "updateTime": first.isoformat(),
        "validTimes": f"{first.isoformat()}/P7DT20H",
        "temperature": layer("degC", *((first + i * HOUR, "PT1H", air_c) for i in range(hours))),
        "dewpoint": layer("degC", (first, spell, 14.0)),
        "relativeHumidity": layer("percent", (first, spell, 55)),
        "windSpeed": layer("km_h-1", (first, spell, 11.112)),
        "skyCover": layer("percent", (first, spell, 40)),
        "quantitativePrecipitation": layer("mm", (first, "PT6H", 3.0), (first + 6 * HOUR, "PT6H", 0)),
        "weather": {
            "values": [{"validTime": f"{first.isoformat()}/PT6H", "value": [{"coverage": "chance"}]}]
        },
        "hazards": {"values": []},
        "ceilingHeight": {},
    }
    return {"type": "Feature", "properties": layers | changed}


def lists(first: datetime, hours: int = 240, air_c: float = 24.0, **changed: Any) -> dict[str, Any]:
    """A worldwide answer from `first` on."""
    hourly: dict[str, Any] = {
        "time": [int((first + i * HOUR).timestamp()) for i in range(hours)],
        "temperature_2m": [air_c] * hours,
        "relative_humidity_2m": [60] * hours,
        "wind_speed_10m": [9.0] * hours,
        "cloud_cover": [20] * hours,
        "shortwave_radiation": [100.0] * hours,
        "precipitation": [0.0] * hours,
    }
    given = {
        "time": "unixtime",
        "temperature_2m": "°C",
        "relative_humidity_2m": "%",
        "wind_speed_10m": "km/h",
        "cloud_cover": "%",
        "shortwave_radiation": "W/m²",
        "precipitation": "mm",
    }
    for name, value in changed.items():
        (given if name.endswith("_unit") else hourly)[name.removesuffix("_unit")] = value
    return {
        "latitude": 36.1,
        "longitude": -79.95,
        "utc_offset_seconds": 0,
        "timezone": "GMT",
        "hourly_units": given,
        "hourly": hourly,
    }


def united_states(body: Callable[[], Any], **headers: str) -> Answer:
    """Both steps of the United States service."""

    def answer(asked: Asked) -> None:
        asked.tell(POINT if asked.path.startswith("/points/") else body(), **headers)

    return answer


def silent(asked: Asked) -> None:
    """Takes the question and says nothing."""
    asked.service.closing.wait(30)


def trickling(asked: Asked) -> None:
    """A byte now and then, so that no single wait is long."""
    asked.send_response(200)
    asked.send_header("Content-Length", "100000")
    asked.end_headers()
    while not asked.service.closing.wait(0.05):
        asked.wfile.write(b" ")


def at_noon() -> datetime:
    return datetime(2026, 7, 14, 12, tzinfo=UTC)
