"""`slabtide timeline`: JSON in, JSON out, and nothing on standard output when the input is wrong."""

from __future__ import annotations

import json
import subprocess
import sys
from pathlib import Path
from typing import Any

import pytest

SAMPLE = Path(__file__).parents[1] / "engine" / "samples" / "two_loads.json"


def run(*arguments: str, stdin: str = "") -> subprocess.CompletedProcess[str]:
    command = [sys.executable, "-m", "slabtide.cli", "timeline", *arguments]
    return subprocess.run(command, input=stdin, capture_output=True, text=True, timeout=60)


def test_a_pour_gives_its_timeline_the_same_from_a_file_and_from_standard_input() -> None:
    from_file, from_input = run(str(SAMPLE)), run("-", stdin=SAMPLE.read_text())
    assert from_file.returncode == 0
    assert from_file.stdout == from_input.stdout
    timeline = json.loads(from_file.stdout)
    assert timeline["version"] == 1
    assert {"windows", "curve", "id"} <= set(timeline["loads"][0])
    assert {"pace", "slots", "warnings"} <= set(timeline)


def test_the_time_of_the_forecast_can_be_said() -> None:
    early = run(str(SAMPLE), "--at", "2026-06-04T06:00:00-05:00")
    assert early.returncode == 0
    assert run(str(SAMPLE), "--at", "2026-06-04T11:00:00Z").stdout == early.stdout


def broken(**changed: Any) -> str:
    return json.dumps(json.loads(SAMPLE.read_text()) | changed)


WRONG = {
    "unknown key": (broken(colour="red"), ["colour"]),
    "impossible value": (broken(slab={"area_m2": -5}), ["slab.area_m2", "slab.thickness_m"]),
    "several at once": (broken(version=2, time_zone="Nowhere/Atlantis"), ["version", "time_zone"]),
    "not a number": ('{"version": NaN}', ["NaN"]),
    "cut short": ('{"version": 1,', ["line 1"]),
    "empty": ("", ["not valid JSON"]),
    "a list": ("[]", []),
    "too deep": ("[" * 100_000, ["not valid JSON"]),
}


@pytest.mark.parametrize("name", WRONG)
def test_wrong_input_is_status_2_with_every_problem_on_standard_error(name: str) -> None:
    text, said = WRONG[name]
    done = run("-", stdin=text)
    assert (done.returncode, done.stdout) == (2, "")
    assert done.stderr.strip()
    assert "Traceback" not in done.stderr
    assert [word for word in said if word not in done.stderr] == []


@pytest.mark.parametrize(
    ("arguments", "said"),
    [
        (("/no/such/file.json",), "No such file"),
        ((str(SAMPLE.parent),), "directory"),
        ((str(SAMPLE), "--at", "noon"), "--at noon"),
        ((str(SAMPLE), "--at", "2026-06-04T06:00:00"), "offset"),
        ((), "FILE"),
    ],
)
def test_a_wrong_call_is_status_2_and_says_why(arguments: tuple[str, ...], said: str) -> None:
    done = run(*arguments)
    assert (done.returncode, done.stdout) == (2, "")
    assert said in done.stderr
    assert "Traceback" not in done.stderr


def test_text_that_is_not_utf8_is_wrong_input(tmp_path: Path) -> None:
    (tmp_path / "x.json").write_bytes(b"\xff\xfe\x00")
    done = run(str(tmp_path / "x.json"))
    assert (done.returncode, done.stdout) == (2, "")
    assert "UTF-8" in done.stderr
