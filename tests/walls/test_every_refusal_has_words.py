"""A code the server refuses with has words on the phone in both languages: no refusal is English only."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
SERVER = ROOT / "server" / "slabtide"
WORDS = ROOT / "pwa" / "src" / "page" / "words"
FIRST_ARGUMENT = {"EventRejected", "UnknownDeviceError", "Problem"}
# The engine's and the list's problems name a path or a row, not a code; the command line speaks at the desk.
WITHOUT_CODES = ("engine", "cli", "office/exports/reading.py")


def _texts(node: ast.AST) -> Iterator[str]:
    """The codes named by one piece of source."""
    if isinstance(node, ast.keyword) and node.arg == "code":
        yield from _constant(node.value)
    if isinstance(node, ast.Assign) and [getattr(name, "id", "") for name in node.targets] == ["code"]:
        yield from _constant(node.value)
    if isinstance(node, ast.Call) and getattr(node.func, "id", "") in FIRST_ARGUMENT and node.args:
        yield from _constant(node.args[0])


def _constant(node: ast.AST) -> Iterator[str]:
    if isinstance(node, ast.Constant) and isinstance(node.value, str):
        yield node.value


def codes_of_the_server() -> set[str]:
    """Every code in the server's source."""
    found: set[str] = set()
    for path in SERVER.rglob("*.py"):
        if path.relative_to(SERVER).as_posix().startswith(WITHOUT_CODES):
            continue
        for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
            found.update(_texts(node))
    return found | _plain_failures()


def _plain_failures() -> set[str]:
    """The codes of `errors.py`, which stand first in their triples."""
    tree = ast.parse((SERVER / "errors.py").read_text(encoding="utf-8"))
    triples = (node.elts for node in ast.walk(tree) if isinstance(node, ast.Tuple) and len(node.elts) == 3)
    return {code for elements in triples for code in _constant(elements[0])}


def test_the_search_finds_the_codes_known_to_be_there() -> None:
    assert {"device_revoked", "body_invalid", "server_failed", "slab_missing"} <= codes_of_the_server()


@pytest.mark.parametrize("language", ["en", "es"])
def test_every_refusal_has_words_in(language: str) -> None:
    words = (WORDS / language / "trouble.ts").read_text(encoding="utf-8")
    said = set(re.findall(r"'trouble\.(\w+)':", words))
    assert codes_of_the_server() - said == set()
