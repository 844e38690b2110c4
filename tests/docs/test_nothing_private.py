"""Nothing in version control ties the project to one machine or to one registry."""

import re
from collections.abc import Iterator

from tests.docs.pages import ROOT, tracked

# Spelled with gaps, so that this file does not find itself.
HOMES = [r"/home /\w", r"/Users /\w", r"(?<![\w.#])/root /", r"(?<![\w.#])/work /\w"]
HOSTS = [r"pypi \.org", r"python hosted\.org", r"npm js\.(org|com)", r"debian \.org", r"yarn pkg\.com"]
MACHINE = re.compile("|".join(HOMES).replace(" ", ""))
REGISTRY = re.compile("|".join(HOSTS).replace(" ", ""))
PINS = ("requirements.lock", "requirements-dev.lock", "requirements-node.lock", "pwa/package-lock.json")


def lines() -> Iterator[tuple[str, str]]:
    for name in tracked():
        try:
            text = (ROOT / name).read_text()
        except UnicodeDecodeError:
            continue
        yield from ((name, line) for line in text.splitlines())


def test_no_path_of_a_developer_machine() -> None:
    assert not [(name, line[:120]) for name, line in lines() if MACHINE.search(line)]


def test_no_registry_host() -> None:
    assert not [(name, line[:120]) for name, line in lines() if REGISTRY.search(line)]


def test_the_lock_files_say_what_not_where() -> None:
    for name in PINS:
        text = (ROOT / name).read_text()
        assert not re.search(r"--(index|extra-index|find-links|trusted)", text), name
        assert '"resolved": "http' not in text, name


def test_every_python_requirement_is_pinned_to_one_version() -> None:
    for name in PINS[:3]:
        for line in (ROOT / name).read_text().splitlines():
            assert re.match(r"[a-z0-9-]+==[\w.+]+( ; .+)?$", line), f"{name}: {line}"


def test_the_patterns_would_be_seen_to_match() -> None:
    assert MACHINE.search("see /ho" + "me/ana/slabtide")
    assert REGISTRY.search('"resolved": "https://registry.npm' + 'js.org/dexie"')
    assert not MACHINE.search("#/" + "work/one")
