"""Long lists of keys in parts, for a database takes only so many values with one question."""

from collections.abc import Iterator, Sequence

MOST_KEYS = 500


def in_parts(keys: Sequence[str], most: int = MOST_KEYS) -> Iterator[Sequence[str]]:
    """`keys` in order, at most `most` of them at a time.

    >>> list(in_parts(["a", "b", "c"], most=2))
    [['a', 'b'], ['c']]
    """
    return (keys[start : start + most] for start in range(0, len(keys), most))
