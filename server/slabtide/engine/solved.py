"""What was worked out before, kept by all that it follows from.

Heat, and what follows from it alone, is a function of its input, so that what is kept here is what would be
worked out again, to the last digit: it saves time and moves no answer. Whoever asks again and again holds a
`Solved` and hands it in; the engine keeps none of its own.
"""

from collections.abc import Callable, Hashable
from typing import Any, ParamSpec, TypeVar, cast

MOST_KEPT = 96
"""Answers of each function: four histories of some twenty loads, 11 MB, and what little follows from them."""

_Asked = ParamSpec("_Asked")
_Found = TypeVar("_Found")


class Solved:
    """Answers of pure functions by function and whole input, of each function the latest used ones. Not for
    several threads at once."""

    def __init__(self, most: int = MOST_KEPT) -> None:
        """`most` -- how many answers of each function are kept, at least one."""
        self._most = max(1, most)
        self._kept: dict[Hashable, dict[Hashable, Any]] = {}

    def __len__(self) -> int:
        return sum(map(len, self._kept.values()))

    def of(self, work: Callable[_Asked, _Found], *asked: _Asked.args, **named: _Asked.kwargs) -> _Found:
        """What `work` gives for this input, all of it hashable; nobody may change what comes back."""
        kept, key = self._kept.setdefault(work, {}), (asked, tuple(named.items()))
        found = kept.pop(key) if key in kept else work(*asked, **named)
        kept[key] = found  # the latest used stands last
        while len(kept) > self._most:
            del kept[next(iter(kept))]
        return cast(_Found, found)
