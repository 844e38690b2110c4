"""Where the server is, and the `slabtide` command beside this Python."""

import os
import re
import subprocess
import sys
import time
import urllib.error
import urllib.request
from pathlib import Path

COMMAND = Path(sys.executable).parent / "slabtide"
ROLES = ("crew", "foreman", "office")


def home() -> Path:
    return Path(os.environ.get("SLABTIDE_HOME") or "var").absolute()


def base_url() -> str:
    """What the server's own settings say, so that both agree."""
    host, port = os.environ.get("SLABTIDE_HOST", "127.0.0.1"), os.environ.get("SLABTIDE_PORT", "8321")
    reachable = "127.0.0.1" if host in ("0.0.0.0", "") else host
    return f"http://{reachable}:{port}"


def wait_for(url: str, seconds: float) -> None:
    """Until the server answers; raises `TimeoutError`."""
    deadline = time.monotonic() + seconds
    while True:
        try:
            with urllib.request.urlopen(f"{url}/api/health", timeout=5):
                return
        except (urllib.error.URLError, ConnectionError) as error:
            if time.monotonic() > deadline:
                raise TimeoutError(f"No Slabtide answers at {url}: {error}. Start it first.") from error
            time.sleep(0.1)


def slabtide(*arguments: str) -> str:
    """Runs one command over this home and gives what it printed; its own words go up when it fails."""
    done = subprocess.run([COMMAND, *arguments], capture_output=True, text=True)
    if done.returncode != 0:
        raise RuntimeError(f"slabtide {' '.join(arguments)}: {done.stderr.strip() or done.stdout.strip()}")
    return done.stdout


def invite(role: str, company: str | None = None, person: str | None = None) -> str:
    """The link of a fresh invite for one person of this role; for another device of `person` when named."""
    whose = [*(["--company", company] if company else []), *(["--person", person] if person else [])]
    said = slabtide("invite", "--role", role, *whose)
    found = re.search(r"https?://\S+/#/join/[0-9A-Za-z-]+", said)
    if not found:
        raise RuntimeError(f"slabtide invite printed no link: {said}")
    return found[0]


def code_of(link: str) -> str:
    return link.rsplit("/", 1)[1]
