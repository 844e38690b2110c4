"""The engine's bench runs through and leaves the engine as it was."""

import importlib.util
from pathlib import Path
from types import ModuleType

import pytest

from slabtide.engine import Pour, ensemble, forecast, load_state, saw_spans, windows
from slabtide.engine.contract import default_at, write_timeline

BENCH = Path(__file__).parents[2] / "scripts" / "benches" / "engine.py"


@pytest.fixture(scope="module")
def bench() -> ModuleType:
    spec = importlib.util.spec_from_file_location("engine_bench", BENCH)
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


def test_costs_are_told_and_nothing_stays_changed(
    bench: ModuleType, sample_pour: Pour, capsys: pytest.CaptureFixture[str]
) -> None:
    at, members = default_at(sample_pour), ensemble.MEMBERS
    before = write_timeline(forecast(sample_pour, at))
    for cost in (bench.by_members, bench.by_horizon, bench.by_nodes):
        cost(sample_pour, 1)
    assert capsys.readouterr().out.count(" ms") == 15
    assert ensemble.MEMBERS is members
    assert windows.MEMBERS is members
    assert saw_spans.MEMBERS is members
    assert load_state.MEMBERS is members
    assert len(members) == ensemble._COUNT
    assert write_timeline(forecast(sample_pour, at)) == before
