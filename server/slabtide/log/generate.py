"""The phone's types and the JSON Schema, written from the kinds so that neither can drift.

`python -m slabtide.log.generate` writes all files into a source tree.
"""

import json
from collections.abc import Iterator
from dataclasses import asdict
from pathlib import Path
from typing import Any, get_args

from slabtide.engine.recipe import pace_figures
from slabtide.log.checklist_items import CHECKLISTS, NEEDS, Counted, Per
from slabtide.log.kinds import KINDS, AddTo, Kind, Retract, Rule
from slabtide.log.kinds.fields import Body, BodyField
from slabtide.log.kinds.shapes import Rows

SCHEMA_FILE = Path(__file__).parent / "kinds.schema.json"
SHARED = Path(__file__).parents[3] / "pwa" / "src" / "shared"
TYPESCRIPT_FILE = SHARED / "events.ts"
LISTS_FILE = SHARED / "lists.ts"
RECIPE_FILE = SHARED / "recipe.ts"
IDS = (
    "JobId",
    "EventId",
    "DeviceId",
    "PersonId",
    "LoadId",
    "BayId",
    "PinId",
    "CoverId",
    "CutId",
    "PointId",
    "ReminderId",
    "PhotoId",
)
HEAD = """\
// Generated from server/slabtide/log/kinds by `slabtide kinds --typescript`. Do not edit: change the kinds.

/** An id that can't be passed where another sort of id is wanted. */
export type Brand<Name extends string> = string & { readonly __id: Name }
"""
MIDDLE = """
/** A moment, ISO 8601 with `Z` or an offset. */
export type Instant = string
/** A calendar day, YYYY-MM-DD. */
export type Day = string
/** A point on the plan, [x, y] in metres. */
export type Spot = readonly [number, number]
"""
TAIL = """\
export type Kind = keyof Bodies
export type Role = 'crew' | 'foreman' | 'office'
/** How a kind folds: set a key (`{name}` is a field of the body), add to a collection, or hide an event. */
export type Rule = { readonly set: string } | { readonly add: string } | { readonly retract: string }
"""
LISTS = """\
// Generated from server/slabtide/log/checklist_items.py by `python -m slabtide.log.generate`. Do not edit.
import type { ItemTicked } from './events'

export type Per = %(per)s
export type Counted = %(counted)s

/** One line of a checklist: ticked by hand, or counted from what was recorded. */
export interface Item {
  readonly slug: string
  readonly per: Per
  readonly counted: Counted
}

/** Points measured on the forms, level shots, least and good fall [%%], depth of a low spot [m]. */
export const NEEDS = %(needs)s as const

export const CHECKLISTS: %(lists)s
"""

RECIPE = """\
// Generated from server/slabtide/engine/recipe.py by `python -m slabtide.log.generate`. Do not edit.

/** How many times later a mix sets: by cement, by admixture at its usual dose, by ash and slag per unit. */
export const PACE_FIGURES = %s as const
"""


def fields_of(schema: type[Body]) -> Iterator[tuple[str, BodyField]]:
    """Name and field of each part of a body, in the order declared."""
    for name, field in schema().fields.items():
        if not isinstance(field, BodyField):
            raise TypeError(f"{schema.__name__}.{name} is not a BodyField: declare it with kinds/fields.py")
        yield name, field


def rows_of(schema: type[Body]) -> Iterator[Rows]:
    """The fields of a body that are lists of objects."""
    return (field for _, field in fields_of(schema) if isinstance(field, Rows))


def typescript() -> str:
    """The content of `pwa/src/shared/events.ts`."""
    parts = [HEAD, *(f"export type {name} = Brand<'{name}'>\n" for name in IDS), MIDDLE]
    told: set[str] = set()
    for kind in KINDS.values():
        parts += [_interface(name, row) for name, row in _new_rows(kind.schema, told)]
        parts.append(_interface(kind.body_name, kind.schema))
    bodies = "".join(f"  '{kind.name}': {kind.body_name}\n" for kind in KINDS.values())
    parts.append(f"\n/** The body of each kind. */\nexport interface Bodies {{\n{bodies}}}\n\n")
    parts += [TAIL, _rules(), _roles(), _field_names(), _limits()]
    return "".join(parts)


def _new_rows(schema: type[Body], told: set[str]) -> Iterator[tuple[str, type[Body]]]:
    """The sorts of rows in a body that no body before it had; kinds may share one."""
    for rows in rows_of(schema):
        if rows.name_of_row not in told:
            told.add(rows.name_of_row)
            yield rows.name_of_row, type(rows.row)


def _interface(name: str, schema: type[Body]) -> str:
    lines = "".join(
        f"  readonly {field_name}{'?' if field.optional else ''}: "
        f"{field.typescript()}{' | null' if field.optional else ''}\n"
        for field_name, field in fields_of(schema)
    )
    return f"\nexport interface {name} {{\n{lines}}}\n"


def rule_table() -> dict[str, dict[str, str]]:
    """Each kind's fold rule as plain data."""
    return {kind.name: _rule(kind.rule) for kind in KINDS.values()}


def _rule(rule: Rule) -> dict[str, str]:
    if isinstance(rule, Retract):
        return {"retract": "event"}
    return {"add": rule.collection} if isinstance(rule, AddTo) else {"set": rule.key}


def _rules() -> str:
    lines = "".join(f"  '{name}': {_literal(rule)},\n" for name, rule in rule_table().items())
    return f"\nexport const RULES: {{ readonly [K in Kind]: Rule }} = {{\n{lines}}}\n"


def _roles() -> str:
    lines = "".join(f"  '{kind.name}': {_literal(list(kind.roles))},\n" for kind in KINDS.values())
    return (
        "\n/** Who may write each kind. Crew retract their own events only. */\n"
        f"export const ROLES: {{ readonly [K in Kind]: readonly Role[] }} = {{\n{lines}}}\n"
    )


def _field_names() -> str:
    lines = "".join(
        f"  '{kind.name}': {_literal([name for name, _ in fields_of(kind.schema)])},\n"
        for kind in KINDS.values()
    )
    table = "{ readonly [K in Kind]: readonly (keyof Bodies[K] & string)[] }"
    return f"\n/** Every field of each body. */\nexport const FIELDS: {table} = {{\n{lines}}}\n"


def _limits() -> str:
    lines = "".join(
        f"  '{name}': {{\n{_limit_lines(schema)}  }},\n"
        for name, schema in _schemas()
        if _limit_lines(schema)
    )
    return (
        "\n/** What each field accepts, for forms; SI. Rows of a list stand under their type's name. */\n"
        f"export const LIMITS = {{\n{lines}}} as const\n"
    )


def _schemas() -> Iterator[tuple[str, type[Body]]]:
    told: set[str] = set()
    for kind in KINDS.values():
        yield kind.name, kind.schema
        yield from _new_rows(kind.schema, told)


def _limit_lines(schema: type[Body]) -> str:
    found = ((name, field.limits()) for name, field in fields_of(schema))
    return "".join(f"    {name}: {_literal(limits)},\n" for name, limits in found if limits)


def _literal(value: Any) -> str:
    """A value as TypeScript in this project's style: single quotes, bare keys."""
    if isinstance(value, dict):
        return "{ " + ", ".join(f"{key}: {_literal(item)}" for key, item in value.items()) + " }"
    if isinstance(value, list):
        return "[" + ", ".join(_literal(item) for item in value) + "]"
    if isinstance(value, str):
        return "'" + value.replace("\\", "\\\\").replace("'", "\\'") + "'"
    return json.dumps(value)


def json_schema() -> dict[str, Any]:
    """JSON Schema (draft 2020-12) of the body of each kind, under `$defs`."""
    definitions: dict[str, Any] = {}
    for kind in KINDS.values():
        for rows in rows_of(kind.schema):
            definitions[rows.name_of_row] = _object_schema(type(rows.row))
        definitions[kind.body_name] = _object_schema(kind.schema)
    return {
        "$schema": "https://json-schema.org/draft/2020-12/schema",
        "title": "Kinds of the field log and their bodies",
        "oneOf": [_kind_schema(kind) for kind in KINDS.values()],
        "$defs": definitions,
    }


def _kind_schema(kind: Kind) -> dict[str, Any]:
    return {
        "properties": {"kind": {"const": kind.name}, "body": {"$ref": f"#/$defs/{kind.body_name}"}},
        "required": ["kind", "body"],
        "x-roles": list(kind.roles),
        "x-fold": _rule(kind.rule),
    }


def _object_schema(schema: type[Body]) -> dict[str, Any]:
    properties = {
        name: {"anyOf": [field.json_schema(), {"type": "null"}]} if field.optional else field.json_schema()
        for name, field in fields_of(schema)
    }
    required = [name for name, field in fields_of(schema) if not field.optional]
    return {"type": "object", "properties": properties, "required": required, "additionalProperties": False}


def json_schema_text() -> str:
    """`json_schema()` as the committed file has it."""
    return json.dumps(json_schema(), indent=1, ensure_ascii=False) + "\n"


def lists_typescript() -> str:
    """The content of `pwa/src/shared/lists.ts`: the checklists' items as data."""
    lists = "".join(
        f"  {name}: [\n" + "".join(f"    {_literal(asdict(item))},\n" for item in items) + "  ],\n"
        for name, items in CHECKLISTS.items()
    )
    per, counted = (" | ".join(f"'{word}'" for word in get_args(words)) for words in (Per, Counted))
    table = f"{{ readonly [L in ItemTicked['list']]: readonly Item[] }} = {{\n{lists}}}"
    return LISTS % {"per": per, "counted": counted, "needs": _literal(NEEDS), "lists": table}


def recipe_typescript() -> str:
    """The content of `pwa/src/shared/recipe.ts`: what a mix's pace is worked out from in the engine."""
    figures = json.dumps(pace_figures(), indent=2).replace('"', "'")
    return RECIPE % figures


def write() -> None:
    """Write all files into the source tree this module stands in."""
    SCHEMA_FILE.write_text(json_schema_text(), encoding="utf-8")
    TYPESCRIPT_FILE.write_text(typescript(), encoding="utf-8")
    LISTS_FILE.write_text(lists_typescript(), encoding="utf-8")
    RECIPE_FILE.write_text(recipe_typescript(), encoding="utf-8")


if __name__ == "__main__":
    write()
