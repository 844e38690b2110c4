"""The examples in the engine's docstrings are true."""

import doctest
import importlib
import pkgutil

import pytest

import slabtide.engine

NAMES = [module.name for module in pkgutil.iter_modules(slabtide.engine.__path__)]


@pytest.mark.parametrize("name", NAMES)
def test_examples_hold(name: str) -> None:
    outcome = doctest.testmod(importlib.import_module(f"slabtide.engine.{name}"))
    assert outcome.failed == 0


def test_there_are_examples_enough() -> None:
    modules = [importlib.import_module(f"slabtide.engine.{name}") for name in NAMES]
    finder = doctest.DocTestFinder()
    assert sum(bool(found.examples) for module in modules for found in finder.find(module)) >= 40
