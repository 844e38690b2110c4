"""The engine runs unchanged on the phone: nothing but the standard library, and no outside world."""

import ast
import sys
from collections.abc import Iterator
from pathlib import Path

import pytest

SERVER = Path(__file__).parents[2] / "server"
ENGINE = sorted((SERVER / "slabtide" / "engine").rglob("*.py"))

# Standard library, yet the outside world: files, clocks, chance, other processes, the network.
WORLD = {
    "os",
    "io",
    "time",
    "random",
    "secrets",
    "socket",
    "subprocess",
    "threading",
    "pathlib",
    "urllib",
    "http",
    "asyncio",
    "shutil",
    "tempfile",
    "logging",
    "uuid",
    "sqlite3",
    "ssl",
    "select",
    "signal",
}


def imported(tree: ast.AST) -> Iterator[tuple[str, int]]:
    """Every module a file imports, spelled from its root, with the line."""
    for node in ast.walk(tree):
        if isinstance(node, ast.Import):
            yield from ((alias.name, node.lineno) for alias in node.names)
        elif isinstance(node, ast.ImportFrom):
            yield ("." * node.level + (node.module or ""), node.lineno)


def why_not(module: str) -> str | None:
    """The reason the engine may not import `module`, or None."""
    root = module.split(".")[0]
    if module.startswith("..") or (root == "slabtide" and not module.startswith("slabtide.engine")):
        return "another room of ours"
    if root in WORLD:
        return "reaches outside the computation"
    if root not in sys.stdlib_module_names and root not in {"slabtide", ""}:
        return "not in the standard library"
    return None


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.name)
def test_engine_imports_only_the_standard_library(path: Path) -> None:
    found = [
        f"{path.name}:{line} {module}: {why}"
        for module, line in imported(ast.parse(path.read_text()))
        if (why := why_not(module))
    ]
    assert not found, "\n".join(found)


@pytest.mark.parametrize("path", ENGINE, ids=lambda path: path.name)
def test_engine_reads_no_clock_and_no_file(path: Path) -> None:
    calls = [node for node in ast.walk(ast.parse(path.read_text())) if isinstance(node, ast.Call)]
    names = {ast.unparse(call.func): call.lineno for call in calls}
    barred = {
        name: line
        for name, line in names.items()
        if name in {"open", "print", "input"} or name.endswith((".now", ".utcnow", ".today"))
    }
    assert not barred, f"{path.name}: {barred}"


def test_the_engine_was_found() -> None:
    assert len(ENGINE) >= 5


@pytest.mark.parametrize("module", ["flask", "slabtide.log", "..log", "time", "numpy"])
def test_the_wall_would_be_seen_to_break(module: str) -> None:
    assert why_not(module)


@pytest.mark.parametrize("module", ["math", "dataclasses", "slabtide.engine.heat", ".heat", "."])
def test_the_wall_lets_the_allowed_through(module: str) -> None:
    assert why_not(module) is None
