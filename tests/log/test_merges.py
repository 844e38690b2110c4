"""Merges, whatever phones wrote: no ring is followed, nothing is lost, every double ends at a load kept."""

from typing import Any

from hypothesis import given
from hypothesis import strategies as st
from tests.log.conftest import filled

from slabtide.log.fold import fold
from slabtide.log.view import view_job

LOADS = ("a", "b", "c", "d", "e")
graphs = st.dictionaries(st.sampled_from(LOADS), st.sampled_from((*LOADS, "gone")), max_size=5)


def told(graph: dict[str, str]) -> Any:
    said: list[dict[str, Any]] = [
        {
            "kind": "load.ticketed",
            "body": {
                "load": load,
                "number": number,
                "batched_at": "2026-07-14T12:00:00.000Z",
                "volume_m3": 1,
            },
        }
        for number, load in enumerate(LOADS, 1)
    ]
    said += [{"kind": "load.merged", "body": {"load": x, "into": y}} for x, y in graph.items() if x != y]
    events = [filled({"id": f"e{n:02d}", "clock": f"{n:03d}-A", **one}) for n, one in enumerate(said)]
    return view_job(fold(events, "J"))


@given(graphs)
def test_every_load_stands_or_went_into_one_that_stands(graph: dict[str, str]) -> None:
    view = told(graph)
    standing = {load.id for load in view.loads}
    went = {merge.load: merge.into for merge in view.merged}
    assert standing | set(went) == set(LOADS)
    assert not standing & set(went)
    assert set(went.values()) <= standing


@given(graphs)
def test_a_load_stays_only_for_a_ring_a_missing_end_or_no_merge(graph: dict[str, str]) -> None:
    went = {merge.load for merge in told(graph).merged}
    for load in set(LOADS) - went:
        into = graph.get(load)
        assert into in (None, "gone", load) or load in path_from(graph, load)


def path_from(graph: dict[str, str], load: str) -> list[str]:
    """The loads met on the way from a load, five steps long: one round of the longest ring."""
    met: list[str] = []
    here = graph.get(load)
    while here is not None and len(met) < len(LOADS):
        met.append(here)
        here = graph.get(here)
    return met
