"""A phone of the demo company: joins with a code and posts what its person recorded, over HTTP alone."""

import hashlib
import json
import urllib.request
import uuid
from datetime import UTC, datetime
from typing import Any

BATCH = 500


def instant(at: datetime) -> str:
    """A moment as events carry it: UTC, milliseconds, Z."""
    return at.astimezone(UTC).isoformat(timespec="milliseconds").replace("+00:00", "Z")


def event_id(at: datetime, seed: str) -> str:
    """A UUIDv7 (RFC 9562) whose random part comes from `seed`: posting the demo twice adds nothing."""
    milliseconds = int(at.timestamp() * 1000)
    noise = int.from_bytes(hashlib.sha256(seed.encode()).digest()[:10])
    value = (milliseconds << 80) | (noise & ~(0xF << 76) & ~(0x3 << 62)) | (0x7 << 76) | (0x2 << 62)
    return str(uuid.UUID(int=value))


class RefusedError(Exception):
    """The server did not take an event of the demo; the text names it and the reason."""


class Phone:
    """One enrolled device. `record` keeps events; `send` posts them as a sync does."""

    def __init__(self, url: str, code: str, person: str, language: str) -> None:
        self.url = url
        self.person = person
        self._token = ""
        body = {"code": code, "person_name": person, "device_name": f"{person}, demo", "language": language}
        answer = self._post("/api/join", body)
        self._token = answer["token"]
        self.device = answer["device"]["id"]
        self.person_id = answer["person"]["id"]
        self.company_id = answer["company"]["id"]
        self._kept: list[dict[str, Any]] = []

    def _post(self, path: str, body: dict[str, Any]) -> dict[str, Any]:
        headers = {"Content-Type": "application/json"}
        if self._token:
            headers["Authorization"] = f"Bearer {self._token}"
        request = urllib.request.Request(self.url + path, json.dumps(body).encode(), headers, method="POST")
        with urllib.request.urlopen(request, timeout=60) as answer:
            read: dict[str, Any] = json.load(answer)
        return read

    def ask_in(self, role: str, person: str) -> str:
        """A code for one person of this role: only a foreman's or an office's device may."""
        code: str = self._post("/api/invites", {"role": role, "person_name": person})["code"]
        return code

    def record(self, job: str, kind: str, at: datetime, /, **body: Any) -> None:
        """Keeps one event. A field named `from_` stands for `from`, which Python keeps for itself."""
        index = len(self._kept)
        milliseconds = int(at.timestamp() * 1000)
        event = {
            "id": event_id(at, f"{job}/{self.person}/{index}"),
            "job": job,
            "kind": kind,
            "body": {name.rstrip("_"): value for name, value in body.items()},
            "at": instant(at),
            "clock": f"{milliseconds:015d}-{index % 0x10000:04x}-{self.device}",
            "device": self.device,
            "author": self.person_id,
            "raw_at": None,
        }
        self._kept.append(event)

    def send(self) -> int:
        """Posts what was kept and gives how many events the server took. Raises `RefusedError`."""
        taken = 0
        for start in range(0, len(self._kept), BATCH):
            batch = self._kept[start : start + BATCH]
            body = {"cursor": 0, "events": batch, "device_time": instant(datetime.now(UTC))}
            answer = self._post("/api/sync", body)
            # An id that is taken was posted by a load that was interrupted.
            refused = [each for each in answer["rejected"] if each["why"]["code"] != "id_taken"]
            if refused:
                worst = refused[0]
                kind = next((each["kind"] for each in batch if each["id"] == worst.get("id")), "?")
                raise RefusedError(f"{self.person}, {kind}: {json.dumps(worst['why'])}")
            taken += len(answer["accepted"])
        return taken
