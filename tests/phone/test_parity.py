"""Under WebAssembly the engine says what it says here: every time, every number, to the last digit."""

import json
import shutil
import subprocess
import sys
import uuid
from collections.abc import Callable
from datetime import datetime
from typing import Any

import pytest
from tests.conftest import iso
from tests.office.learned.closing import ahead, closed
from tests.office.scene import FIRST_BATCH, HOUR, Patio
from tests.phone.drawn import SAMPLE, corner, likely
from tests.phone.packing import ROOT
from tests.phone.test_work import asked

from slabtide.engine import forecast
from slabtide.engine.contract import read_pour, write_timeline
from slabtide.phone.work import work

RUNTIME = ROOT / "pwa" / "node_modules" / "pyodide"
LIKELY, CORNERS = 24, 12
MIX = {"name": "M", "cement_kg_m3": 340, "w_cm": 0.45, "design_strength_mpa": 28, "aggregate": "rounded"}
RECIPE = {"cement_type": "IL", "fly_ash_fraction": 0.2, "admixtures": [{"type": "B", "dose": 1}]}
OUTLINE = {
    **{"corners": [[0, 0], [8, 0], [8, 6.5], [4, 6.5], [4, 5], [0, 5]], "thickness_m": 0.115},
    **{"insulation_r_m2k_w": 0.1, "ground_temp_c": 21, "solar_absorptivity": 0.65, "shade": 0.35},
    "abutting": [{"edge": 1, "against": "old walk", "bonded": True}],
}
Ask = Callable[[list[dict[str, Any]]], list[Any]]


@pytest.fixture(scope="module")
def in_pyodide(tmp_path_factory: pytest.TempPathFactory) -> Ask:
    """Asks the packed engine under WebAssembly; every question in one go, for its start takes seconds."""
    archives = tmp_path_factory.mktemp("packed")
    subprocess.run([sys.executable, ROOT / "pwa/scripts/pack_engine.py", archives], check=True)
    node = shutil.which("node", path=f"{ROOT / '.venv/bin'}:/usr/local/bin:/usr/bin:/bin") or "node"

    def ask(questions: list[dict[str, Any]]) -> list[Any]:
        text = "".join(f"{json.dumps(question)}\n" for question in questions)
        command = [node, ROOT / "tests/phone/in_pyodide.mjs", RUNTIME, archives]
        done = subprocess.run(command, input=text, capture_output=True, text=True, timeout=300)
        assert done.returncode == 0, done.stderr
        answers = [line.split(" ", 1) for line in done.stdout.splitlines()]
        print("milliseconds under WebAssembly:", *(ms for ms, _ in answers))
        return [json.loads(answer) for _, answer in answers]

    return ask


def here(question: dict[str, Any]) -> Any:
    pour, at = read_pour(question["pour"]), datetime.fromisoformat(question["at"])
    return json.loads(json.dumps(write_timeline(forecast(pour, at))))


def differences(one: Any, other: Any, path: str = "") -> list[str]:
    """Where two answers part, in words."""
    if isinstance(one, dict) and isinstance(other, dict) and one.keys() == other.keys():
        return [each for key in one for each in differences(one[key], other[key], f"{path}.{key}")]
    if isinstance(one, list) and isinstance(other, list) and len(one) == len(other):
        pairs = zip(one, other, strict=True)
        return [each for n, (a, b) in enumerate(pairs) for each in differences(a, b, f"{path}[{n}]")]
    return [] if one == other else [f"{path}: {one!r} here, {other!r} there"]


def test_drawn_pours_come_out_the_same_to_the_last_digit(in_pyodide: Ask) -> None:
    sample = {"pour": SAMPLE, "at": SAMPLE["checks"][0]["at"]}
    questions = [sample, *map(likely, range(LIKELY)), *map(corner, range(CORNERS))]
    answers = in_pyodide(questions)
    assert len(answers) == len(questions) >= 20
    found = {n: differences(here(questions[n]), answer)[:5] for n, answer in enumerate(answers)}
    assert not {n: each for n, each in found.items() if each}


def test_drawn_pours_differ_from_each_other() -> None:
    said = {json.dumps(here(likely(seed))["loads"][0]["windows"]) for seed in range(4)}
    assert len(said) == 4


def test_a_job_comes_out_the_same_with_its_reminders(patio: Patio, in_pyodide: Ask) -> None:
    patio.poured()
    patio.tick(FIRST_BATCH + 5 * HOUR)
    for hours, depth_mm in ((3, 12), (4, 7), (5, 3)):
        body = {"load": patio.loads[1], "kind": "footprint", "depth_mm": depth_mm}
        patio.record("check.made", body, FIRST_BATCH + hours * HOUR)
    patio.record("weather.noted", {"air_temp_c": 33.5, "rh": 0.35, "wind_kmh": 19}, FIRST_BATCH + 4 * HOUR)
    questions = [asked(patio, FIRST_BATCH + hours * HOUR) for hours in (3, 6, 30)]
    answers = in_pyodide([{"work": question} for question in questions])
    assert [differences(work(q), answer) for q, answer in zip(questions, answers, strict=True)] == [
        [],
        [],
        [],
    ]
    assert answers[0]["timeline"]["loads"]
    assert answers[0]["reminders"]


def test_a_job_that_begins_from_earlier_pours_comes_out_the_same(patio: Patio, in_pyodide: Ask) -> None:
    closed(patio)
    following = ahead(patio)
    now = FIRST_BATCH + 100 * HOUR
    following.tick(now)
    question = asked(following, now)
    unheard = question | {"learned": {"prior": None, "mixes": question["learned"]["mixes"]}}
    answers = in_pyodide([{"work": question}, {"work": unheard}])
    assert question["learned"]["prior"]["level"] == "plant"
    for answer in answers:
        assert differences(following.mine()["timeline"], answer["timeline"]) == []
        assert answer["prior"] == following.mine()["prior"]


def test_a_difference_would_be_seen() -> None:
    assert differences({"a": [1.0, {"b": 2.001}]}, {"a": [1.0, {"b": 2.0}]}) == [
        ".a[1].b: 2.001 here, 2.0 there"
    ]


def test_a_job_with_all_that_is_told_of_it_comes_out_the_same(patio: Patio, in_pyodide: Ask) -> None:
    patio.poured()
    patio.record("mix.chosen", MIX | RECIPE)
    patio.record("slab.outlined", OUTLINE)
    patio.record("cover.laid", {"cover": str(uuid.uuid4()), "cover_kind": "blanket"}, FIRST_BATCH + 9 * HOUR)
    double = {"load": str(uuid.uuid4()), "number": 3, "batched_at": iso(FIRST_BATCH), "volume_m3": 3}
    patio.record("load.ticketed", double | {"admixtures": [{"type": "E", "dose": 0.5}]})
    patio.record("load.merged", {"load": double["load"], "into": patio.loads[1]})
    patio.tick(FIRST_BATCH + 10 * HOUR)
    questions = [asked(patio, FIRST_BATCH + hours * HOUR) for hours in (2, 12)]
    answers = in_pyodide([{"work": question} for question in questions])
    assert [differences(work(q), answer) for q, answer in zip(questions, answers, strict=True)] == [[], []]
    assert len(answers[1]["timeline"]["loads"]) == 2
    assert any("blanket" in said for said in answers[1]["assumptions"])
