"""The phone's types and the JSON Schema are what the kinds say."""

import json

from slabtide.log import generate
from slabtide.log.kinds import KINDS

AGAIN = "run `slabtide kinds --typescript` and `--json-schema` again, or `python -m slabtide.log.generate`"


def test_committed_typescript_is_what_the_kinds_generate() -> None:
    assert generate.TYPESCRIPT_FILE.read_text(encoding="utf-8") == generate.typescript(), AGAIN


def test_committed_checklists_are_what_the_items_generate() -> None:
    assert generate.LISTS_FILE.read_text(encoding="utf-8") == generate.lists_typescript(), AGAIN


def test_committed_pace_figures_are_what_the_engine_has() -> None:
    assert generate.RECIPE_FILE.read_text(encoding="utf-8") == generate.recipe_typescript(), AGAIN


def test_committed_json_schema_is_what_the_kinds_generate() -> None:
    assert generate.SCHEMA_FILE.read_text(encoding="utf-8") == generate.json_schema_text(), AGAIN


def test_every_kind_is_in_both_files() -> None:
    typescript = generate.typescript()
    named = {entry["properties"]["kind"]["const"] for entry in generate.json_schema()["oneOf"]}
    assert named == set(KINDS)
    assert all(f"  '{name}': {kind.body_name}\n" in typescript for name, kind in KINDS.items())


def test_every_reference_in_the_json_schema_resolves() -> None:
    schema = generate.json_schema()
    used = set(json.dumps(schema).split('"#/$defs/')[1:])
    assert {part.split('"')[0] for part in used} == set(schema["$defs"])
