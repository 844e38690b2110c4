"""The hybrid logical clock: close to wall time, yet never behind what a device has seen.

Text `{ms:015d}-{counter:04x}-{device}`; it sorts as plain text. Source: Kulkarni, Demirbas, Madeppa, Avva and
Leone (2014), Logical physical clocks and consistent snapshots in globally distributed databases.
"""

import re
from collections.abc import Iterable
from typing import NamedTuple

MAX_AHEAD_MS = 300_000
"""How far ahead of the server an event's clock may stand, in milliseconds."""
MAX_MS = 10**15 - 1
MAX_COUNTER = 0xFFFF
_FORM = re.compile(
    r"(\d{15})-([0-9a-f]{4})-([0-9a-f]{8}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{4}-[0-9a-f]{12})\Z", re.ASCII
)


class Reading(NamedTuple):
    """A clock taken apart."""

    ms: int
    counter: int
    device: str


def read(text: str) -> Reading:
    """Take a clock apart. Raises ValueError when it has another form."""
    found = _FORM.match(text)
    if not found:
        raise ValueError(f"{text!r} is not a clock: 15 digits, 4 hex digits, device id, joined by hyphens")
    return Reading(int(found[1]), int(found[2], 16), found[3])


def write(ms: int, counter: int, device: str) -> str:
    """A clock as text. Raises ValueError outside 15 digits and 4 hex digits."""
    if not (0 <= ms <= MAX_MS and 0 <= counter <= MAX_COUNTER):
        raise ValueError(f"no clock can hold {ms} ms, counter {counter}")
    return f"{ms:015d}-{counter:04x}-{device}"


def later(ms: int, counter: int) -> tuple[int, int]:
    """The next step after (ms, counter); a full counter moves on by a millisecond."""
    return (ms, counter + 1) if counter < MAX_COUNTER else (ms + 1, 0)


class Clock:
    """One device's clock. Wall time is always passed in."""

    def __init__(self, device: str, ms: int = 0, counter: int = 0) -> None:
        self.device = device
        self.ms = ms
        self.counter = counter

    def tick(self, wall_ms: int) -> str:
        """The clock of a new event, later than every one before it, even when the wall clock went back."""
        if wall_ms > self.ms:
            self.ms, self.counter = wall_ms, 0
        else:
            self.ms, self.counter = later(self.ms, self.counter)
        return write(self.ms, self.counter, self.device)

    def receive(self, remote: str, wall_ms: int) -> None:
        """Having seen another's event: what this device writes next comes after it, and after the wall.

        What the server hands out is clamped already, so it is followed as it is.
        """
        seen = read(remote)
        self.ms, self.counter = max((self.ms, self.counter), (seen.ms, seen.counter), (wall_ms, 0))

    def lower(self, *held: str) -> None:
        """Come back to the latest clock this device still holds, once clamped ones are rewritten.

        `held` must include what is unsent: a clock set back below an unsent event would let an undo
        of that event sort before it.
        """
        latest = max((read(clock)[:2] for clock in held), default=(self.ms, self.counter))
        self.ms, self.counter = min((self.ms, self.counter), latest)


def clamp(events: Iterable[tuple[str, str]], server_ms: int) -> dict[str, str]:
    """New clocks for events that stand more than five minutes ahead of the server.

    `events` are (id, clock) in request order. All that are too far ahead get the furthest allowed
    millisecond with a counter that rises in that order, so that they stay apart and in order, and stay
    after what the same request holds at that millisecond. Only changed ids are in the answer.
    """
    limit = server_ms + MAX_AHEAD_MS
    readings = [(event, read(clock)) for event, clock in events]
    ms, counter = limit, max((r.counter + 1 for _, r in readings if r.ms == limit), default=0)
    clamped: dict[str, str] = {}
    for event, reading in readings:
        if reading.ms > limit and event not in clamped:
            if counter > MAX_COUNTER:
                ms, counter = ms + 1, 0
            clamped[event] = write(ms, counter, reading.device)
            ms, counter = later(ms, counter)
    return clamped
