"""The demo company is loaded once, however often and however rudely it is asked for."""

import json

import pytest
from tests.browser.demo import DemoJobs, load_demo
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
