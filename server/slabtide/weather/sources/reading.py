"""Reading a source's JSON without trusting it."""

import json
from typing import Any, NoReturn

from slabtide.weather.sources.contract import SourceError


def read_object(body: bytes) -> dict[str, Any]:
    """The JSON object in `body`. Raises: SourceError."""
    try:
        found = json.loads(body, parse_constant=_refuse)
    except (ValueError, RecursionError) as error:
        raise SourceError("answered with something that is not JSON") from error
    if not isinstance(found, dict):
        raise SourceError("answered in a form that can't be read")
    return found


def part(found: dict[str, Any], name: str) -> dict[str, Any]:
    """The object called `name`. Raises: SourceError."""
    inner = found.get(name)
    if not isinstance(inner, dict):
        raise SourceError(f"answered without {name}")
    return inner


def _refuse(text: str) -> NoReturn:
    raise ValueError(f"{text} is not JSON")
