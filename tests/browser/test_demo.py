"""The demo company is loaded once, however often and however rudely it is asked for."""

import json
from collections.abc import Iterator
from pathlib import Path

import pytest
from tests.browser.demo import load_demo
from tests.browser.serving import Person, Server


@pytest.fixture
def empty_server(web: None, tmp_path: Path) -> Iterator[Server]:
    running = Server(tmp_path)
    running.command("migrate")
    running.command("keys")
    running.start()
    yield running
    running.stop()


def log_of(person: Person) -> list[str]:
    """The ids of every event the server holds."""
    return [event["id"] for event in person.events()]


def test_the_demo_has_a_live_timeline_and_loading_it_again_adds_nothing(empty_server: Server) -> None:
    jobs = load_demo(empty_server)
    person = empty_server.enrol("office", "Ida Brandt")
    before = log_of(person)
    assert len(before) > 100
    load_demo(empty_server)
    assert log_of(person) == before
    timeline = person.call("GET", "/api/outlook")["jobs"][jobs.patio]["timeline"]
    assert [load["id"] for load in timeline["loads"]]


def test_a_load_that_was_interrupted_is_finished_without_doubling(empty_server: Server) -> None:
    load_demo(empty_server)
    person = empty_server.enrol("office", "Ida Brandt")
    before = sorted(log_of(person))
    note = empty_server.home / "demo.json"
    note.write_text(json.dumps({**json.loads(note.read_text()), "done": False}))
    load_demo(empty_server)
    assert sorted(log_of(person)) == before
