"""The fields event bodies are made of: strict, in SI, each knowing its TypeScript and JSON Schema form.

A body is checked and kept as it came: no field converts, so a phone and the server hold the same bytes.
"""

import re
from collections.abc import Sequence
from datetime import date, datetime
from typing import Any
from zoneinfo import ZoneInfo

from marshmallow import Schema, ValidationError, fields

JsonSchema = dict[str, Any]
UUID = r"^[0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12}$"
INSTANT = r"^\d{4}-\d{2}-\d{2}T\d{2}:\d{2}(:\d{2}(\.\d{1,6})?)?(Z|[+-]\d{2}:\d{2})$"


class Body(Schema):
    """Base of every event body: unknown fields are refused by name."""

    error_messages = {  # noqa: RUF012 (marshmallow declares it on the instance)
        "unknown": "This field is not part of this kind. Leave it out, or update the app.",
        "type": "The body must be an object of named fields.",
    }


class BodyField(fields.Field[Any]):
    """A field that says what it accepts in TypeScript and in JSON Schema."""

    default_error_messages = {  # noqa: RUF012 (marshmallow declares it on the instance)
        "required": "Missing. Fill it in.",
        "null": "Empty. Fill it in, or leave the event out.",
    }

    def __init__(self, *, optional: bool = False) -> None:
        super().__init__(required=not optional, allow_none=optional)
        self.optional = optional

    def typescript(self) -> str:
        """The TypeScript type of a value."""
        raise NotImplementedError

    def json_schema(self) -> JsonSchema:
        """The JSON Schema of a value."""
        raise NotImplementedError

    def limits(self) -> dict[str, Any] | None:
        """What a form needs to keep input inside the field; None where nothing helps."""
        return None


def is_number(value: object) -> bool:
    """Whether a JSON value is a number (true and false are not)."""
    return isinstance(value, int | float) and not isinstance(value, bool)


class Measure(BodyField):
    """A finite number between two limits, unit named; `hint` says what a bare number means."""

    def __init__(
        self, low: float, high: float, unit: str = "", *, hint: str = "", optional: bool = False
    ) -> None:
        super().__init__(optional=optional)
        self.low, self.high, self.unit, self.hint = low, high, unit, hint

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        span = f"{self.low:g} to {self.high:g} {self.unit}".rstrip() + (
            f" ({self.hint})" if self.hint else ""
        )
        if not is_number(value):
            raise ValidationError(f"Must be a number, {span}.")
        if not self.low <= value <= self.high:
            raise ValidationError(f"{str(value)[:24]} is outside {span}. Check the reading and its unit.")
        return value

    def typescript(self) -> str:
        return "number"

    def json_schema(self) -> JsonSchema:
        return {"type": "number", "minimum": self.low, "maximum": self.high}

    def limits(self) -> dict[str, Any]:
        return {"min": self.low, "max": self.high, "unit": self.unit}


class Count(BodyField):
    """A whole number between two limits."""

    def __init__(self, low: int, high: int, *, optional: bool = False) -> None:
        super().__init__(optional=optional)
        self.low, self.high = low, high

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if isinstance(value, bool) or not isinstance(value, int) or not self.low <= value <= self.high:
            raise ValidationError(f"Must be a whole number, {self.low} to {self.high}.")
        return value

    def typescript(self) -> str:
        return "number"

    def json_schema(self) -> JsonSchema:
        return {"type": "integer", "minimum": self.low, "maximum": self.high}

    def limits(self) -> dict[str, Any]:
        return {"min": self.low, "max": self.high, "whole": True}


class Text(BodyField):
    """Words a person wrote, not blank, of limited length."""

    def __init__(self, longest: int, *, optional: bool = False) -> None:
        super().__init__(optional=optional)
        self.longest = longest

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str):
            raise ValidationError("Must be text.")
        if not value.strip():
            raise ValidationError("Blank. Write something, or leave the field out.")
        if len(value) > self.longest:
            raise ValidationError(f"{len(value)} characters; at most {self.longest}. Shorten it.")
        if "\x00" in value or any("\ud800" <= letter <= "\udfff" for letter in value):
            raise ValidationError("Holds a character that can't be stored. Type it again.")
        return value

    def typescript(self) -> str:
        return "string"

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "minLength": 1, "maxLength": self.longest}

    def limits(self) -> dict[str, Any]:
        return {"maxLength": self.longest}


class Flag(BodyField):
    """True or false."""

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, bool):
            raise ValidationError("Must be true or false.")
        return value

    def typescript(self) -> str:
        return "boolean"

    def json_schema(self) -> JsonSchema:
        return {"type": "boolean"}


class OneOf(BodyField):
    """One word of a closed set."""

    def __init__(self, words: Sequence[str], *, optional: bool = False) -> None:
        super().__init__(optional=optional)
        self.words = tuple(words)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or value not in self.words:
            raise ValidationError(f"Must be one of: {', '.join(self.words)}.")
        return value

    def typescript(self) -> str:
        return " | ".join(f"'{word}'" for word in self.words)

    def json_schema(self) -> JsonSchema:
        return {"enum": list(self.words)}

    def limits(self) -> dict[str, Any]:
        return {"options": list(self.words)}


class Pattern(BodyField):
    """Text of a fixed form, with the words that say what is wrong and the type it has on the phone."""

    def __init__(
        self, pattern: str, words: str, typescript: str = "string", *, optional: bool = False
    ) -> None:
        super().__init__(optional=optional)
        self.pattern, self.words, self.type_name = pattern, words, typescript
        self._compiled = re.compile(pattern.removesuffix("$") + r"\Z", re.ASCII)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        if not isinstance(value, str) or not self._compiled.match(value):
            raise ValidationError(self.words)
        return value

    def typescript(self) -> str:
        return self.type_name

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "pattern": self.pattern}


def ident(brand: str, *, optional: bool = False) -> Pattern:
    """An id made on a device: UUID text, branded on the phone."""
    return Pattern(UUID, "Must be a UUID in lower case with hyphens.", brand, optional=optional)


def photo(*, optional: bool = False) -> Pattern:
    """A photo named by the SHA-256 of its bytes."""
    words = "Must be the photo's SHA-256: 64 lower-case hex digits."
    return Pattern(r"^[0-9a-f]{64}$", words, "PhotoId", optional=optional)


class Instant(Pattern):
    """A moment, ISO 8601 with `Z` or an offset."""

    def __init__(self, *, optional: bool = False) -> None:
        words = "Must be a date and time with its offset, like 2026-07-14T13:05:00.000Z."
        super().__init__(INSTANT, words, "Instant", optional=optional)

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        super()._deserialize(value, attr, data, **kwargs)
        try:
            moment = datetime.fromisoformat(value)
        except ValueError:
            raise ValidationError(f"{value} is not a date and time that exists. Pick it again.") from None
        if not 2000 <= moment.year <= 2200:
            raise ValidationError(f"{value} is not in this century or the next. Pick it again.")
        return value

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date-time", "pattern": self.pattern}


class Day(Pattern):
    """A calendar day, YYYY-MM-DD."""

    def __init__(self) -> None:
        super().__init__(r"^\d{4}-\d{2}-\d{2}$", "Must be a day, like 2026-07-14.", "Day")

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        super()._deserialize(value, attr, data, **kwargs)
        try:
            date.fromisoformat(value)
        except ValueError:
            raise ValidationError(f"{value} is not a day that exists. Pick it again.") from None
        return value

    def json_schema(self) -> JsonSchema:
        return {"type": "string", "format": "date", "pattern": self.pattern}


class TimeZone(Pattern):
    """An IANA time zone name."""

    def __init__(self) -> None:
        super().__init__(r"^[A-Za-z0-9_+/-]{1,64}$", "Must be a time zone, like America/Chicago.")

    def _deserialize(self, value: Any, attr: str | None, data: Any, **kwargs: Any) -> Any:
        super()._deserialize(value, attr, data, **kwargs)
        try:
            ZoneInfo(value)
        except (ValueError, OSError):  # ZoneInfoNotFoundError is a KeyError only where tzdata is missing
            raise ValidationError(self.words) from None
        except KeyError:
            raise ValidationError(f"No time zone is called {value}. Use one like America/Chicago.") from None
        return value
