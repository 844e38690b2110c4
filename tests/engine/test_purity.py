"""The engine is pure: standard library only, nothing of ours but itself, no clock, no files, no chance."""

import ast
import sys
from pathlib import Path

import pytest

import slabtide.engine

FOLDER = Path(slabtide.engine.__file__).parent
MODULES = sorted(FOLDER.glob("*.py"))
UNWELCOME = {"random", "time", "os", "io", "pathlib", "socket", "subprocess", "threading", "logging", "sys"}


def imported(path: Path) -> set[str]:
    names: set[str] = set()
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Import):
            names |= {alias.name for alias in node.names}
        elif isinstance(node, ast.ImportFrom):
            assert node.level == 0
            names.add(node.module or "")
    return names


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_module_imports_only_the_standard_library_and_the_engine(path: Path) -> None:
    for name in imported(path):
        root = name.partition(".")[0]
        assert name.startswith("slabtide.engine.") or root in sys.stdlib_module_names
        assert root not in UNWELCOME


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_module_asks_no_clock_and_opens_no_file(path: Path) -> None:
    for node in ast.walk(ast.parse(path.read_text(encoding="utf-8"))):
        if isinstance(node, ast.Call):
            called = node.func.attr if isinstance(node.func, ast.Attribute) else getattr(node.func, "id", "")
            assert called not in {"now", "utcnow", "today", "open", "print", "input"}


def test_no_file_is_long() -> None:
    assert {path.name: n for path in MODULES if (n := len(path.read_text().splitlines())) > 330} == {}
