"""Fields with parts: points, outlines, rows."""

from collections.abc import Mapping
from typing import Any

from marshmallow import ValidationError

from slabtide.log import polygon
from slabtide.log.kinds.fields import Body, BodyField, JsonSchema, is_number

REACH_M = 1000.0
"""How far from the plan's origin a point may lie, in metres."""


def read_spot(value: object) -> polygon.Point:
    """A point [x, y] in metres, or ValidationError."""
    if not isinstance(value, list) or len(value) != 2 or not all(is_number(part) for part in value):
        raise ValidationError("Must be a point: [x, y] in metres.")
    if not all(-REACH_M <= part <= REACH_M for part in value):
        raise ValidationError(f"The point is not within {REACH_M:g} m of the plan's origin. Check it.")
    return float(value[0]), float(value[1])


SPOT_SCHEMA: JsonSchema = {
    "type": "array",
    "items": {"type": "number", "minimum": -REACH_M, "maximum": REACH_M},
    "minItems": 2,
    "maxItems": 2,
}


class Spot(BodyField):
    """A point on the plan: [x, y] in metres."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        read_spot(value)
        return value

    def typescript(self) -> str:
        return "Spot"

    def json_schema(self) -> JsonSchema:
        return SPOT_SCHEMA


class Corners(BodyField):
    """A simple polygon on the plan, 3 to 120 corners, not closed by repeating the first."""

    most = 120

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list) or not 3 <= len(value) <= self.most:
            raise ValidationError(f"Must be a list of 3 to {self.most} corners.")
        problem = polygon.problem([read_spot(corner) for corner in value])
        if problem:
            raise ValidationError(problem)
        return value

    def typescript(self) -> str:
        return "readonly Spot[]"

    def json_schema(self) -> JsonSchema:
        return {"type": "array", "items": SPOT_SCHEMA, "minItems": 3, "maxItems": self.most}

    def limits(self) -> dict[str, Any]:
        return {"minItems": 3, "maxItems": self.most}


class Rows(BodyField):
    """A list of objects, each with its own schema."""

    def __init__(self, row: type[Body], name: str, fewest: int, most: int, *, optional: bool = False) -> None:
        super().__init__(optional=optional)
        self.row, self.name_of_row, self.fewest, self.most = row(), name, fewest, most

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, list) or not self.fewest <= len(value) <= self.most:
            raise ValidationError(f"Must be a list of {self.fewest} to {self.most} rows.")
        problems: dict[int, Any] = {}
        for index, item in enumerate(value):
            found = self.row.validate(item) if isinstance(item, Mapping) else ["Must be an object."]
            if found:
                problems[index] = found
        if problems:
            raise ValidationError(problems)
        return value

    def typescript(self) -> str:
        return f"readonly {self.name_of_row}[]"

    def json_schema(self) -> JsonSchema:
        return {"type": "array", "items": {"$ref": f"#/$defs/{self.name_of_row}"},
                "minItems": self.fewest, "maxItems": self.most}  # fmt: skip

    def limits(self) -> dict[str, Any]:
        return {"minItems": self.fewest, "maxItems": self.most}
