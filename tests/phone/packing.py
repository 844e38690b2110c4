"""The script that packs the engine for the phone, as a module."""

import importlib.util
from pathlib import Path
from types import ModuleType

ROOT = Path(__file__).parents[2]


def load() -> ModuleType:
    spec = importlib.util.spec_from_file_location("pack_engine", ROOT / "pwa" / "scripts" / "pack_engine.py")
    assert spec is not None
    assert spec.loader is not None
    module = importlib.util.module_from_spec(spec)
    spec.loader.exec_module(module)
    return module


pack_engine = load()
