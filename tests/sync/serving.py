"""A real server process over a home folder, for tests that kill it."""

from __future__ import annotations

import http.client
import json
import os
import socket
import subprocess
import sys
import time
from pathlib import Path
from typing import Any


def free_port() -> int:
    with socket.socket() as probe:
        probe.bind(("127.0.0.1", 0))
        return int(probe.getsockname()[1])


class Server:
    """`slabtide serve` on a loopback port that it keeps over restarts."""

    def __init__(self, home: Path, **settings: str) -> None:
        self.home, self.port = home, free_port()
        clean = {name: value for name, value in os.environ.items() if not name.startswith("SLABTIDE_")}
        own = {"SLABTIDE_HOME": str(home), "SLABTIDE_PORT": str(self.port)}
        self.environment = clean | own | settings
        self.process: subprocess.Popen[bytes] | None = None

    def start(self) -> None:
        with (self.home / "server.log").open("ab") as log:
            command = [sys.executable, "-m", "slabtide.cli", "serve"]
            self.process = subprocess.Popen(command, env=self.environment, stdout=log, stderr=log)
        deadline = time.monotonic() + 20
        while time.monotonic() < deadline:
            assert self.process.poll() is None, self.log()
            try:
                if self.call("GET", "/api/health")[0] == 200:
                    return
            except OSError:
                time.sleep(0.05)
        raise AssertionError(self.log())

    def kill(self) -> None:
        """SIGKILL: no chance to tidy up."""
        assert self.process
        self.process.kill()
        self.process.wait()

    def stop(self) -> int:
        """SIGTERM; the exit status."""
        assert self.process
        self.process.terminate()
        return self.process.wait(timeout=20)

    def log(self) -> str:
        return (self.home / "server.log").read_text()

    def call(self, method: str, path: str, body: Any = None, token: str = "") -> tuple[int, Any]:
        """One call on a connection of its own; the status and the JSON."""
        connection = http.client.HTTPConnection("127.0.0.1", self.port, timeout=20)
        headers = {"Content-Type": "application/json", "Authorization": f"Bearer {token}"}
        try:
            connection.request(method, path, None if body is None else json.dumps(body), headers)
            answer = connection.getresponse()
            return answer.status, json.loads(answer.read() or b"null")
        finally:
            connection.close()
