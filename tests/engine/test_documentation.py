"""docs/engine.md and docs/odds.md keep up with the code: every module, notice and quantity stands there."""

import ast
import re
from pathlib import Path

import pytest

import slabtide.engine
from slabtide.engine.notice_wording import CODES

FOLDER = Path(slabtide.engine.__file__).parent
DOCS = Path(__file__).parents[2] / "docs"
PAGE = "".join((DOCS / name).read_text(encoding="utf-8") for name in ("engine.md", "odds.md"))
WORDS = set(re.findall(r"`([a-z_0-9]+)`", PAGE))
MODULES = [path for path in sorted(FOLDER.glob("*.py")) if path.stem != "__init__"]


def public_functions(path: Path) -> list[ast.FunctionDef]:
    body = ast.parse(path.read_text(encoding="utf-8")).body
    return [node for node in body if isinstance(node, ast.FunctionDef) and not node.name.startswith("_")]


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_module_stands_on_the_page(path: Path) -> None:
    assert path.stem in WORDS


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_quantity_that_a_function_takes_stands_in_the_glossary(path: Path) -> None:
    for function in public_functions(path):
        for argument in [*function.args.args, *function.args.kwonlyargs]:
            if argument.annotation is not None and ast.unparse(argument.annotation) in (
                "float",
                "Sequence[float]",
            ):
                assert argument.arg in WORDS or argument.arg == "values", f"{function.name}: {argument.arg}"


@pytest.mark.parametrize("path", MODULES, ids=lambda path: path.stem)
def test_a_public_function_says_what_it_is(path: Path) -> None:
    for function in public_functions(path):
        assert ast.get_docstring(function), function.name


def test_every_notice_code_stands_on_the_page() -> None:
    assert len(CODES) >= 18
    assert CODES <= WORDS


def test_every_notice_is_one_that_there_are_words_for() -> None:
    made = [re.findall(r'told\(\s*"([a-z_]+)"', path.read_text(encoding="utf-8")) for path in MODULES]
    assert {code for codes in made for code in codes} == CODES
