"""Whole timelines of drawn pours in Chromium, with the files a phone is served: ours to the last digit."""

import json
from typing import Any

import pytest
from tests.browser.conftest import OpenPhone
from tests.browser.serving import Server
from tests.phone.drawn import SAMPLE, corner, likely
from tests.phone.packing import ROOT
from tests.phone.test_parity import differences, here

from slabtide.engine.ensemble import MEMBERS

LIKELY, CORNERS = 9, 4
SERVED = ROOT / "pwa" / "dist"
ASK = """async ([files, info, questions]) => {
  const bytes = async (address) => new Uint8Array(await (await fetch(address)).arrayBuffer());
  const { loadPyodide } = await import(files['pyodide.mjs']);
  const folder = files['pyodide.mjs'].replace('pyodide.mjs', '');
  const lock = JSON.stringify({ info, packages: {} });
  const python = await loadPyodide({ indexURL: folder, lockFileContents: lock, packageBaseUrl: folder });
  python.FS.mkdirTree('/engine');
  for (const name of ['slabtide.zip', 'tzdata.zip']) {
    python.FS.writeFile(`/engine/${name}`, await bytes(files[name]));
  }
  const answer = python.runPython(`
import json, sys
from datetime import datetime
sys.path[:0] = ["/engine/slabtide.zip", "/engine/tzdata.zip"]
from slabtide.engine import forecast
from slabtide.engine.contract import read_pour, write_timeline
from slabtide.engine.ensemble import MEMBERS

def answer(text):
    asked = json.loads(text)
    timeline = write_timeline(forecast(read_pour(asked["pour"]), datetime.fromisoformat(asked["at"])))
    return json.dumps([len(MEMBERS), sys.platform, timeline])

answer
`);
  return questions.map((question) => answer(JSON.stringify(question)));
}"""


def served(server: Server, name: str) -> str:
    """Where a phone finds one of the engine's files."""
    found = sorted((SERVED / "engine").glob(f"*/{name}"))
    assert len(found) == 1, f"{name}: build anew"
    return f"{server.base_url}/{found[0].relative_to(SERVED)}"


def in_chromium(open_phone: OpenPhone, server: Server, questions: list[dict[str, Any]]) -> list[Any]:
    page = open_phone().page
    page.goto(server.base_url)
    files = {name: served(server, name) for name in ("pyodide.mjs", "slabtide.zip", "tzdata.zip")}
    lock = json.loads((ROOT / "pwa/node_modules/pyodide/pyodide-lock.json").read_text(encoding="utf-8"))
    return [json.loads(each) for each in page.evaluate(ASK, [files, lock["info"], questions])]


@pytest.mark.browser
def test_drawn_pours_come_out_the_same_in_chromium_to_the_last_digit(
    open_phone: OpenPhone, server: Server
) -> None:
    sample = {"pour": SAMPLE, "at": SAMPLE["checks"][0]["at"]}
    questions = [sample, *map(likely, range(LIKELY)), *map(corner, range(CORNERS))]
    answers = in_chromium(open_phone, server, questions)
    assert len(answers) == len(questions)
    assert {(members, platform) for members, platform, _ in answers} == {(len(MEMBERS), "emscripten")}
    assert len(MEMBERS) == 256
    found = {n: differences(here(questions[n]), told)[:5] for n, (*_, told) in enumerate(answers)}
    assert not {n: each for n, each in found.items() if each}
    assert all(len(told["loads"][0]["curve"]) > 100 for *_, told in answers[: 1 + LIKELY])
