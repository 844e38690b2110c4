"""Hundreds of phones of crews on their slabs, each calling every few seconds, every third with news."""

import asyncio
import gzip
import json
import time
import uuid
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from scripts.benches.busy_company.rows import SLAB
from scripts.benches.many_phones.alone import BODIES
from scripts.benches.many_phones.wire import as_asked, length_in
from scripts.demo.phone import event_id, instant
from tests.browser.serving import Person, Server

PLACE = {"latitude_deg": 36.1, "longitude_deg": -79.95, "time_zone": "America/New_York", "use": "patio"}
DAY = {"low_c": 14, "high_c": 27, "rh": 0.6, "wind_kmh": 9, "cloud": 0.3}


@dataclass
class Phone:
    """One phone: its person, its slab, and how far it has read."""

    who: Person
    job: str
    number: int
    cursor: int = 0
    told: int = 0

    def wanted(self, with_news: bool) -> bytes:
        """Its next call; with news: two entries."""
        now = datetime.now(UTC)
        events = [self._event(now, part) for part in range(2)] if with_news else []
        body = {"cursor": self.cursor, "events": events, "device_time": instant(now), "unsent": 0}
        return as_asked("/api/sync", json.dumps(body).encode(), self.who.token)

    def _event(self, now: datetime, part: int) -> dict[str, Any]:
        self.told += 1
        device = self.who.answer["device"]["id"]
        kind, body = BODIES[self.told % 2]
        return {
            "id": event_id(now, f"{device}{self.told}"),
            "job": self.job,
            "kind": kind,
            "body": body,
            "at": instant(now),
            "clock": f"{int(now.timestamp() * 1000):015d}-{part:04x}-{device}",
            "device": device,
            "author": self.who.answer["person"]["id"],
            "raw_at": None,
        }


@dataclass
class Crews:
    """So many phones over so many slabs that are poured today."""

    server: Server
    count: int
    jobs: int
    phones: list[Phone] = field(init=False)

    def __post_init__(self) -> None:
        slabs = [str(uuid.uuid4()) for _ in range(self.jobs)]
        people = [self.server.enrol("foreman", f"Hand {number}") for number in range(self.count)]
        for number, job in enumerate(slabs):
            _lay_out(people[number % len(people)], job, number)
        self.phones = [Phone(who, slabs[number % self.jobs], number) for number, who in enumerate(people)]


def _lay_out(who: Person, job: str, number: int) -> None:
    """A slab of two loads poured this hour, with its weather: its times are worked out like any other's."""
    now = datetime.now(UTC)
    days = [{"date": f"{now + timedelta(days=ahead):%Y-%m-%d}", **DAY} for ahead in range(-1, 6)]
    who.record(job, "job.opened", {"name": f"Quarry walk {number}", **PLACE})
    who.record(job, "slab.outlined", SLAB)
    who.record(job, "weather.planned", {"days": days})
    who.record(job, "order.placed", {"volume_m3": 6.4, "loads": 2, "pour_at": instant(now)})


def every_few_seconds(crews: Crews, every_s: float, seconds: float) -> list[float]:
    """What each call waited for its answer [ms], in order of size. The first round, in which each phone reads
    all there is, is not counted."""
    return sorted(asyncio.run(_all(crews, every_s, seconds)))


async def _all(crews: Crews, every_s: float, seconds: float) -> list[float]:
    starts = time.monotonic() + 0.5
    each = [
        _one(crews.server.port, phone, starts + every_s * phone.number / crews.count, every_s, seconds)
        for phone in crews.phones
    ]
    return [wait for waits in await asyncio.gather(*each) for wait in waits]


async def _one(port: int, phone: Phone, first: float, every_s: float, seconds: float) -> list[float]:
    waits: list[float] = []
    turn = 0
    reader, writer = await asyncio.open_connection("127.0.0.1", port, limit=1 << 24)
    while turn * every_s < seconds + every_s:
        await asyncio.sleep(max(0.0, first + turn * every_s - time.monotonic()))
        request = phone.wanted(with_news=turn > 0 and (turn + phone.number) % 3 == 0)
        begun = time.perf_counter()
        writer.write(request)
        head = await reader.readuntil(b"\r\n\r\n")
        body = await reader.readexactly(length_in(head))
        waited = (time.perf_counter() - begun) * 1000
        phone.cursor = _cursor(head, body)
        if turn > 0:
            waits.append(waited)
        turn += 1
    writer.close()
    return waits


def _cursor(head: bytes, body: bytes) -> int:
    plain = gzip.decompress(body) if b"content-encoding: gzip" in head.lower() else body
    return int(json.loads(plain)["cursor"])
