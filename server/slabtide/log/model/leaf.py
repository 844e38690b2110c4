"""Where every value of the reading comes from."""

from dataclasses import dataclass

Spot = tuple[float, float]


@dataclass(frozen=True, slots=True, kw_only=True)
class Leaf:
    """Where a value came from: undo goes by `event`."""

    event: str
    at: str
    author: str
