"""What was worked out before, kept by all that it follows from.

Heat, and what follows from it alone, is a function of its input, so that what is kept here is what would be
worked out again, to the last digit: it saves time and moves no answer. Whoever asks again and again holds a
`Solved` and hands it in; the engine keeps none of its own.
"""

from collections.abc import Callable, Hashable
from typing import Any, ParamSpec, TypeVar, cast

MOST_KEPT = 128
"""Some sixteen loads: four histories each, what is shown of one, and what all share; 15 MB."""

_Asked = ParamSpec("_Asked")
_Found = TypeVar("_Found")


class Solved:
    """Answers of pure functions by function and whole input, the latest used ones. Not for several threads
    at once."""

    def __init__(self, most: int = MOST_KEPT) -> None:
        """`most` -- how many answers are kept, at least one."""
        self._most = max(1, most)
        self._kept: dict[Hashable, Any] = {}

    def __len__(self) -> int:
        return len(self._kept)

    def of(self, work: Callable[_Asked, _Found], *asked: _Asked.args, **named: _Asked.kwargs) -> _Found:
        """What `work` gives for this input, all of it hashable; nobody may change what comes back."""
        key = (work, asked, tuple(named.items()))
        found = self._kept.pop(key) if key in self._kept else work(*asked, **named)
        self._kept[key] = found  # the latest used stands last
        while len(self._kept) > self._most:
            del self._kept[next(iter(self._kept))]
        return cast(_Found, found)
