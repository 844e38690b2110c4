"""Heavy answers one or two at a time: documents and exports must not take the server from the phones."""

import threading
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from http import HTTPStatus

from slabtide.errors import AppError

AT_ONCE = 2
PATIENCE_S = 8.0


class BusyError(AppError):
    """Others are having documents made; waiting helps."""

    code = "slow_down"
    status = HTTPStatus.TOO_MANY_REQUESTS
    retry_after_s = 10

    def __init__(self) -> None:
        super().__init__("The server is making other documents just now.", "Try again in ten seconds.")


class Turns:
    """So many at once; the next one waits a little, then is asked to come again."""

    def __init__(self, at_once: int = AT_ONCE, patience_s: float = PATIENCE_S) -> None:
        self._free = threading.BoundedSemaphore(at_once)
        self._patience_s = patience_s

    def take(self) -> Callable[[], None]:
        """Take a turn; what comes back gives it back, once however often it is called.

        Raises `BusyError` when none comes free in time.
        """
        if not self._free.acquire(timeout=self._patience_s):
            raise BusyError
        held = [self._free]

        def give() -> None:
            if held:
                held.pop().release()

        return give

    @contextmanager
    def turn(self) -> Iterator[None]:
        """A turn for the length of a block."""
        give = self.take()
        try:
            yield
        finally:
            give()
