"""Runs the real server as a person would start it: its own process, a free loopback port, a fresh home."""

import json
import os
import socket
import subprocess
import sys
import time
import urllib.error
import urllib.request
from dataclasses import dataclass
from datetime import UTC, datetime
from pathlib import Path
from typing import Any

from scripts.demo.phone import event_id, instant

ROOT = Path(__file__).parents[2]
COMMAND = Path(sys.executable).parent / "slabtide"


def build_web() -> None:
    """Builds the phone app when its sources changed; the tests drive what a person would get."""
    subprocess.run([ROOT / "scripts" / "build"], check=True, stdout=subprocess.DEVNULL)


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


@dataclass
class Person:
    """Someone enrolled through the API alone: for steps that a test does not take through the screens."""

    server: "Server"
    token: str
    answer: dict[str, Any]

    def call(self, method: str, path: str, body: Any = None) -> Any:
        return self.server.call(method, path, body, token=self.token)

    def record(self, job: str, kind: str, body: dict[str, Any]) -> None:
        """Posts one event that happens now."""
        at = datetime.now(UTC)
        ms = int(at.timestamp() * 1000)
        event = {
            "id": event_id(at, f"{self.token}{kind}{ms}"),
            "job": job,
            "kind": kind,
            "body": body,
            "at": instant(at),
            "clock": f"{ms:015d}-0000-{self.answer['device']['id']}",
            "device": self.answer["device"]["id"],
            "author": self.answer["person"]["id"],
            "raw_at": None,
        }
        answer = self.call("POST", "/api/sync", {"cursor": 0, "events": [event], "device_time": instant(at)})
        assert answer["accepted"] == [event["id"]], answer["rejected"]

    def events(self) -> list[dict[str, Any]]:
        """Every event the server holds."""
        body = {"cursor": 0, "events": [], "device_time": instant(datetime.now(UTC)), "own": True}
        found: list[dict[str, Any]] = self.call("POST", "/api/sync", body)["events"]
        return found


class Server:
    """`slabtide serve` over a home folder; `stop` and `start` keep the port, as after a crash."""

    def __init__(self, home: Path, **settings: str) -> None:
        self.home = home
        self.port = free_port()
        self.base_url = f"http://127.0.0.1:{self.port}"
        self.environment = {
            **{name: value for name, value in os.environ.items() if not name.startswith("SLABTIDE_")},
            "SLABTIDE_HOME": str(home),
            "SLABTIDE_PORT": str(self.port),
            "SLABTIDE_BASE_URL": self.base_url,
            "SLABTIDE_WEB_DIR": str(ROOT / "pwa" / "dist"),
            "SLABTIDE_TICK_SECONDS": "0.5",
            "SLABTIDE_PUSH_CONTACT": "mailto:foreman@slabtide.example",
            "SLABTIDE_PUSH_HOSTS": "127.0.0.1",
            **settings,
        }
        self._process: subprocess.Popen[bytes] | None = None
        self._owner: Person | None = None

    def command(self, *arguments: str) -> str:
        """One `slabtide` command over this home; what it printed."""
        done = subprocess.run(
            [COMMAND, *arguments], env=self.environment, capture_output=True, text=True, cwd=ROOT
        )
        assert done.returncode == 0, f"slabtide {' '.join(arguments)}: {done.stderr}"
        return done.stdout

    def start(self) -> None:
        log = (self.home / "server.log").open("ab")
        self._process = subprocess.Popen(
            [COMMAND, "serve"], env=self.environment, stdout=log, stderr=log, cwd=ROOT
        )
        log.close()
        deadline = time.monotonic() + 60  # a busy machine takes its time, and this measures nothing
        while time.monotonic() < deadline:
            assert self._process.poll() is None, self.log()
            try:
                self.call("GET", "/api/health")
                return
            except (urllib.error.URLError, ConnectionError):
                time.sleep(0.05)
        self._process.kill()  # nobody else would
        self._process.wait()
        raise AssertionError(f"the server did not answer: {self.log()}")

    @property
    def process_id(self) -> int | None:
        """The server's, while it runs."""
        return self._process.pid if self._process else None

    def stop(self) -> None:
        if self._process and self._process.poll() is None:
            self._process.terminate()
            self._process.wait(timeout=15)

    def log(self) -> str:
        return (self.home / "server.log").read_text()

    def call(self, method: str, path: str, body: Any = None, token: str | None = None) -> Any:
        headers = {"Content-Type": "application/json"}
        if token:
            headers["Authorization"] = f"Bearer {token}"
        data = None if body is None else json.dumps(body).encode()
        request = urllib.request.Request(self.base_url + path, data, headers, method=method)
        with urllib.request.urlopen(request, timeout=15) as answer:
            text = answer.read()
        return json.loads(text) if text else None

    def owner(self) -> Person:
        """Who invites everybody else, and was invited by the command line."""
        if self._owner is None:
            code = json.loads(self.command("invite", "--role", "office", "--json"))["code"]
            self._owner = self._join(code, "Owner")
        return self._owner

    def take_owner(self, owner: Person) -> None:
        """This home is a copy of another, and its owner with it."""
        self._owner = owner

    def invite(self, role: str) -> str:
        """A fresh pairing code for one person of this role."""
        return str(self.owner().call("POST", "/api/invites", {"role": role})["code"])

    def enrol(self, role: str, name: str) -> Person:
        return self._join(self.invite(role), name)

    def _join(self, code: str, name: str) -> Person:
        body = {"code": code, "person_name": name, "device_name": f"{name}'s phone", "language": "en"}
        answer = self.call("POST", "/api/join", body)
        return Person(self, answer["token"], answer)
