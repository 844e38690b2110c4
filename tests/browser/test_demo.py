"""The demo company is loaded once, however often and however rudely it is asked for."""

import json
import urllib.request

import pytest
from scripts.demo.closed import PAST
from scripts.demo.slabs import MIX, PLANT
from tests.browser.demo import DemoJobs, load_demo, looked_back
from tests.browser.serving import Person, Server


@pytest.fixture
def reader(demo: tuple[Server, DemoJobs]) -> Person:
    return demo[0].enrol("office", "Ida Brandt")


def log_of(person: Person) -> list[str]:
    """The ids of every event the server holds, in its order."""
    return [event["id"] for event in person.events()]


def test_what_is_poured_has_its_windows(demo: tuple[Server, DemoJobs], reader: Person) -> None:
    told = reader.call("GET", "/api/outlook")["jobs"]
    for job, loads in ((demo[1].patio, 2), (demo[1].deck, 3)):
        assert told[job]["problem"] is None
        assert len(told[job]["timeline"]["loads"]) == loads


def test_closed_slabs_have_taught_the_mix_that_is_poured_next(
    demo: tuple[Server, DemoJobs], reader: Person
) -> None:
    found = looked_back(reader)
    opens = found["kept"]["texture_opens"]["all"]
    assert (found["jobs"], opens["few"]) == (len(PAST), False)
    assert abs(opens["median_min"]) < 30  # a believable company: near what was told, not on it
    assert MIX["name"] in {one["name"] for one in found["kept"]["texture_opens"]["by_mix"] if not one["few"]}
    told = reader.call("GET", "/api/outlook")["jobs"][demo[1].walk]
    assert told["prior"]["pours"] >= 5
    assert told["prior"]["plant"] == PLANT


def test_a_closed_slab_has_its_record(demo: tuple[Server, DemoJobs], reader: Person) -> None:
    looked_back(reader)
    closed = {event["job"] for event in reader.events() if event["kind"] == "job.closed"}
    assert len(closed) == len(PAST)
    for job in sorted(closed)[:2]:
        for reader_of in ("owner", "file"):
            path = f"/api/jobs/{job}/record.pdf?for={reader_of}"
            assert pdf(demo[0], path, reader).startswith(b"%PDF-")


def pdf(server: Server, path: str, reader: Person) -> bytes:
    request = urllib.request.Request(
        server.base_url + path, headers={"Authorization": f"Bearer {reader.token}"}
    )
    with urllib.request.urlopen(request, timeout=60) as answer:
        read: bytes = answer.read()
    return read


def test_loading_it_again_adds_nothing(demo: tuple[Server, DemoJobs], reader: Person) -> None:
    before = log_of(reader)
    assert len(before) > 100
    load_demo(demo[0])
    assert log_of(reader) == before


def test_a_load_that_was_interrupted_is_finished_without_doubling(
    demo: tuple[Server, DemoJobs], reader: Person
) -> None:
    before = log_of(reader)
    note = demo[0].home / "demo.json"
    note.write_text(json.dumps({**json.loads(note.read_text()), "done": False}))
    load_demo(demo[0])
    assert json.loads(note.read_text())["done"]
    assert log_of(reader) == before
