"""Reading strict JSON: every problem found is kept, with its path and what is allowed there."""

import math
from collections.abc import Callable, Sequence
from datetime import datetime
from typing import NamedTuple, TypeVar

T = TypeVar("T")


class Problem(NamedTuple):
    """One thing wrong: where, what, and what would be right there."""

    path: str
    message: str
    allowed: str

    def __str__(self) -> str:
        return f"{self.path}: {self.message}" if self.path else self.message


class Fields:
    """One JSON object being read. Values come out typed; what is wrong goes to `problems`.

    A value that fails comes out as None, so that reading goes on and finds the rest.
    """

    def __init__(self, data: object, path: str, problems: list[Problem], known: Sequence[str]) -> None:
        self.path = path
        self.problems = problems
        self.values: dict[str, object] = {}
        if not isinstance(data, dict):
            self.fail("", f"{shown(data)} is not an object", "a JSON object")
            self.broken = True
            return
        self.broken = False
        self.values = data
        for key in data:
            if key not in known:
                self.fail(str(key), "unknown key", "one of " + ", ".join(known))

    def at(self, key: str) -> str:
        """Path of a key inside this object."""
        return f"{self.path}.{key}" if self.path and key else self.path or key

    def fail(self, key: str, message: str, allowed: str) -> None:
        """Note a problem at `key`."""
        self.problems.append(Problem(self.at(key), f"{message}; allowed: {allowed}", allowed))

    def has(self, key: str) -> bool:
        """Whether the key is there at all."""
        return key in self.values

    def take(self, key: str, allowed: str) -> object:
        """The raw value of a required key."""
        if key in self.values:
            return self.values[key]
        if not self.broken:
            self.fail(key, "missing", allowed)
        return None

    def number(self, key: str, low: float, high: float, unit: str, default: float | None = None) -> float:
        """A finite number in a range. A failed one comes out as `low`, which is never used."""
        allowed = f"{low:g} to {high:g} {unit}".strip()
        if default is not None and key not in self.values:
            return default
        value = self.take(key, allowed)
        if key not in self.values:
            return low
        if isinstance(value, bool) or not isinstance(value, int | float):
            self.fail(key, f"{shown(value)} is not a number", allowed)
        elif isinstance(value, float) and not math.isfinite(value):
            self.fail(key, f"{value} is not a finite number", allowed)
        elif not low <= value <= high:
            problem = f"{value:.15g} is outside {allowed}" if abs(value) < 1e15 else f"outside {allowed}"
            self.problems.append(Problem(self.at(key), problem, allowed))
        else:
            return float(value)
        return low

    def whole(self, key: str, low: int, high: int) -> int:
        """A whole number in a range."""
        before = len(self.problems)
        value = self.number(key, low, high, "")
        if len(self.problems) == before and value != int(value):
            self.fail(key, f"{value:g} is not a whole number", f"{low} to {high}")
        return int(value)

    def text(self, key: str, longest: int = 80) -> str:
        """A non-empty text."""
        allowed = f"text of 1 to {longest} characters"
        value = self.take(key, allowed)
        if isinstance(value, str) and 0 < len(value) <= longest:
            return value
        if key in self.values:
            self.fail(key, f"{shown(value)} is not fit", allowed)
        return ""

    def choice(self, key: str, choices: Sequence[T], default: T | None = None) -> T:
        """One of a closed set of words."""
        allowed = "one of " + ", ".join(str(choice) for choice in choices)
        if default is not None and key not in self.values:
            return default
        value = self.take(key, allowed)
        for choice in choices:
            if value == choice and type(value) is type(choice):
                return choice
        if key in self.values:
            self.fail(key, f"{shown(value)} is not known", allowed)
        return choices[0]

    def time(self, key: str) -> datetime | None:
        """A time, ISO 8601 with its UTC offset."""
        allowed = "ISO 8601 with offset, like 2026-06-04T07:10:00-05:00"
        value = self.take(key, allowed)
        if key not in self.values:
            return None
        return self._parsed(key, value, allowed)

    def _parsed(self, key: str, value: object, allowed: str) -> datetime | None:
        if not isinstance(value, str):
            self.fail(key, f"{shown(value)} is not a time", allowed)
            return None
        try:
            time = datetime.fromisoformat(value)
        except ValueError:
            self.fail(key, f"{shown(value)} is not a time", allowed)
            return None
        if time.utcoffset() is None:
            self.fail(key, f"{shown(value)} has no UTC offset", allowed)
            return None
        if not 1990 <= time.year <= 2200:
            self.fail(key, f"{shown(value)} is not a time of ours", "years 1990 to 2200")
            return None
        return time

    def items(self, key: str, least: int, most: int, build: Callable[[object, str], T]) -> tuple[T, ...]:
        """A list of objects, each read by `build(data, path)`."""
        allowed = f"a list of {least} to {most} items"
        value = self.take(key, allowed)
        if key not in self.values:
            return ()
        if not isinstance(value, list):
            self.fail(key, f"{shown(value)} is not a list", allowed)
            return ()
        if not least <= len(value) <= most:
            self.fail(key, f"{len(value)} items", allowed)
            return ()
        return tuple(build(item, f"{self.at(key)}[{index}]") for index, item in enumerate(value))


def shown(value: object) -> str:
    """A value as it may stand in a message: short, on one line."""
    text = repr(value)
    return text if len(text) <= 40 else text[:37] + "..."
