"""Send many pushes side by side, so that one dead endpoint delays nobody else."""

import logging
import threading
from collections.abc import Sequence
from concurrent.futures import Future, ThreadPoolExecutor, wait
from datetime import datetime

from flask import Flask

from slabtide.reminders.contract import LANGUAGES
from slabtide.reminders.outbox import Claim, mark
from slabtide.reminders.push import (
    Outcome,
    PayloadTooLargeError,
    PushMessage,
    PushSender,
    payload_of,
    topic_of,
)
from slabtide.reminders.upsert import telling_of
from slabtide.reminders.words import act, body, title
from slabtide.store.session import read, write
from slabtide.store.tables import JobMark

WORKERS = 24
URGENT = ("open", "last_call")
_log = logging.getLogger(__name__)


class Dispatcher:
    """A pool of sending threads. It never holds more deliveries than it has threads: the rest wait,
    unclaimed, where any other worker may take them."""

    def __init__(self, app: Flask, sender: PushSender) -> None:
        self._app = app
        self._sender = sender
        self._pool = ThreadPoolExecutor(WORKERS, thread_name_prefix="push")
        self._lock = threading.Lock()
        self._busy: set[Future[Outcome]] = set()

    @property
    def free(self) -> int:
        """How many deliveries it can take now."""
        with self._lock:
            return WORKERS - len(self._busy)

    def send(self, claims: Sequence[Claim], now: datetime, wait_s: float) -> list[Outcome]:
        """Start sending all; wait at most `wait_s` and give the outcomes known by then. The slow ones go on,
        and each is marked when it ends."""
        started = [self._start(taken, now) for taken in claims]
        done, _ = wait(started, timeout=wait_s)
        return [future.result() for future in started if future in done]

    def close(self) -> None:
        """Let the sends under way end, and the threads with them."""
        self._pool.shutdown(wait=True)

    def _start(self, taken: Claim, now: datetime) -> Future[Outcome]:
        future = self._pool.submit(self._one, taken, now)
        with self._lock:
            self._busy.add(future)
        future.add_done_callback(self._finished)
        return future

    def _finished(self, future: Future[Outcome]) -> None:
        with self._lock:
            self._busy.discard(future)
        error = future.exception()
        if error is not None:  # its lease runs out, and it is sent again
            _log.error("a push could not be sent or marked", exc_info=error)

    def _one(self, taken: Claim, now: datetime) -> Outcome:
        with self._app.app_context():
            outcome = self._try(taken, now)
            with write() as session:
                mark(session, taken, outcome, now)
        return outcome

    def _try(self, taken: Claim, now: datetime) -> Outcome:
        try:
            message = message_of(taken, now)
        except PayloadTooLargeError as error:
            return Outcome("refused", None, str(error))
        return self._sender.send(taken.target, message, now)


def message_of(taken: Claim, now: datetime) -> PushMessage:
    """The push of a claim, worded as of `now` in the person's language; it lives no longer than its truth."""
    row = taken.reminder
    with read() as session:
        jobmark = session.get(JobMark, (taken.company_id, row.job))
    language = next((known for known in LANGUAGES if known == taken.language), LANGUAGES[0])
    if jobmark is not None and jobmark.state:
        telling = telling_of(row, jobmark.state, now)
        head, text = title(telling, language), body(telling, language)
    else:
        head, text = row.title[language], row.words[language]
    return PushMessage(
        payload=payload_of(row.id, row.job, head, text, language, act(language)),
        ttl_s=max(1, int((taken.until - now).total_seconds())),
        topic=topic_of(row.id),
        urgency="high" if row.stage in URGENT else "normal",
    )
