"""Files stay small enough to read in one sitting: none over 500 lines; the run lists the long ones."""

import ast
import re
from collections.abc import Iterator
from pathlib import Path

import pytest

ROOT = Path(__file__).parents[2]
LONGEST_FILE = 500
LOOK_AGAIN_FILE = 300
LOOK_AGAIN_FUNCTION = 40
FORBIDDEN_NAMES = {"utils", "util", "helpers", "helper", "common", "globals", "misc"}
SOURCES = {".py", ".ts", ".tsx", ".css", ".mjs", ".js", ""}
PLACES = ("server/slabtide", "pwa/src", "pwa/scripts", "tests", "scripts")


def sources() -> Iterator[Path]:
    for place in PLACES:
        for path in sorted((ROOT / place).rglob("*")):
            if (
                path.is_file()
                and path.suffix in SOURCES
                and not {"node_modules", "__pycache__"} & set(path.parts)
            ):
                yield path


def is_generated(text: str) -> bool:
    return bool(re.search(r"^\W*generated", text[:600], re.IGNORECASE | re.MULTILINE))


def length(path: Path) -> int:
    try:
        text = path.read_text()
    except UnicodeDecodeError:
        return 0
    return 0 if is_generated(text) else text.count("\n")


def functions(path: Path) -> Iterator[tuple[str, int]]:
    for node in ast.walk(ast.parse(path.read_text())):
        if isinstance(node, ast.FunctionDef | ast.AsyncFunctionDef):
            yield node.name, (node.end_lineno or 0) - node.lineno + 1


def test_no_file_is_over_500_lines() -> None:
    over = {
        str(path.relative_to(ROOT)): lines for path in sources() if (lines := length(path)) > LONGEST_FILE
    }
    assert not over


def test_no_file_or_folder_has_a_name_that_says_nothing() -> None:
    named = {part for path in sources() for part in (path.stem, *path.relative_to(ROOT).parts[:-1])}
    assert not named & FORBIDDEN_NAMES


def test_the_long_ones_are_shown(capsys: pytest.CaptureFixture[str]) -> None:
    files = [(length(path), path) for path in sources()]
    worth_a_look = [
        f"  {lines} lines {path.relative_to(ROOT)}"
        for lines, path in sorted(files, reverse=True)
        if lines > LOOK_AGAIN_FILE
    ]
    for path in sorted((ROOT / "server/slabtide").rglob("*.py")):
        if not is_generated(path.read_text()):
            worth_a_look += [
                f"  {lines} lines {path.relative_to(ROOT)} {name}()"
                for name, lines in functions(path)
                if lines > LOOK_AGAIN_FUNCTION
            ]
    with capsys.disabled():
        print("\nworth a second look for length:", *(worth_a_look or ["  nothing"]), sep="\n")
    assert files


def test_a_generated_file_is_told_by_its_first_lines() -> None:
    assert is_generated("// Generated from server/slabtide/log/kinds by `slabtide kinds`. Do not edit.\n")
    assert not is_generated("// Shows a curve that the engine generated.\n")
