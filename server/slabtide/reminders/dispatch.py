"""Send many pushes side by side, so that one dead endpoint delays nobody else."""

import logging
import time
from concurrent.futures import FIRST_COMPLETED, Future, ThreadPoolExecutor, wait
from datetime import datetime

from sqlalchemy.orm import Session

from slabtide.reminders.contract import LANGUAGES
from slabtide.reminders.outbox import Claim, anything_ready, claim, mark
from slabtide.reminders.push import (
    About,
    Outcome,
    PayloadTooLargeError,
    PushMessage,
    PushSender,
    Urgency,
    payload_of,
    topic_of,
)
from slabtide.reminders.upsert import telling_of
from slabtide.reminders.words import act, body, title
from slabtide.store.session import read, written
from slabtide.store.tables import JobMark

THREADS = 24
AT_ONCE = 6  # what a kill may double at most, as long as endpoints answer
SLOW_AFTER_S = 1.0
LONGEST_ROUND_S = 10.0
_log = logging.getLogger(__name__)
URGENT = ("open", "last_call")
Job = tuple[Claim, PushMessage | PayloadTooLargeError]


class Dispatcher:
    """A pool of sending threads, driven by one worker, which alone touches the database. It holds few
    deliveries at a time: the rest wait, unclaimed, where any other worker may take them."""

    def __init__(self, sender: PushSender, name: str) -> None:
        self._sender = sender
        self._name = name
        self._pool = ThreadPoolExecutor(THREADS, thread_name_prefix="push")
        self._under_way: dict[Future[Outcome], tuple[Claim, float]] = {}

    def run(self, now: datetime, wait_s: float) -> tuple[int, int]:
        """Claim, send and mark until nothing is ready, or for 10 s. Needs an application context.

        wait_s -- how long to wait when nothing ends; slow sends go on and are marked in a later run
        Returns (claimed, sent) of this run; `sent` counts those of earlier runs that ended by now.
        """
        claimed = sent = 0
        ends = time.monotonic() + LONGEST_ROUND_S
        while True:
            sent += self._mark_done(now)
            jobs = self._claim(now) if time.monotonic() < ends else []
            claimed += len(jobs)
            for job in jobs:
                self._under_way[self._pool.submit(self._send, job, now)] = (job[0], time.monotonic())
            if not self._under_way:
                return claimed, sent
            if not wait(self._under_way, timeout=wait_s, return_when=FIRST_COMPLETED).done:
                return claimed, sent

    def close(self) -> None:
        """Let the sends under way end, and the threads with them. What they did is found by the lease."""
        self._pool.shutdown(wait=True, cancel_futures=True)

    def _claim(self, now: datetime) -> list[Job]:
        free = self._free()
        if free <= 0 or not _anything_ready(now):
            return []
        return written(lambda session: _claim_some(session, now, self._name, free))

    def _free(self) -> int:
        """How many more to take: a few at a time, and one more for each that hangs."""
        slow_since = time.monotonic() - SLOW_AFTER_S
        slow = sum(began <= slow_since for _, began in self._under_way.values())
        return min(THREADS, AT_ONCE + slow) - len(self._under_way)

    def _send(self, job: Job, now: datetime) -> Outcome:
        taken, message = job
        if isinstance(message, PayloadTooLargeError):
            return Outcome("refused", None, str(message))
        return self._sender.send(taken.target, message, now)

    def _mark_done(self, now: datetime) -> int:
        """Write down what ended, in one transaction. Returns how many were sent."""
        done = [(future, taken) for future, (taken, _) in self._under_way.items() if future.done()]
        if not done:
            return 0
        for future, _ in done:
            del self._under_way[future]
        outcomes = [(taken, _outcome(future)) for future, taken in done]
        written(lambda session: _mark_all(session, outcomes, now))
        return sum(outcome.kind == "sent" for _, outcome in outcomes)


def _anything_ready(now: datetime) -> bool:
    """Looked up without the write lock: most ticks find nothing to send."""
    with read() as session:
        return anything_ready(session, now)


def _claim_some(session: Session, now: datetime, worker: str, most: int) -> list[Job]:
    return [_with_message(session, taken, now) for taken in claim(session, now, worker, most)]


def _mark_all(session: Session, outcomes: list[tuple[Claim, Outcome]], now: datetime) -> None:
    for taken, outcome in sorted(outcomes, key=lambda one: (one[0].company_id, one[0].reminder_id)):
        mark(session, taken, outcome, now)


def _outcome(future: Future[Outcome]) -> Outcome:
    """What came of a send; a sender that raised though it must not is tried again later."""
    error = future.exception()
    if error is None:
        return future.result()
    _log.error("the push sender failed", exc_info=error)
    return Outcome("later", None, f"{type(error).__name__}: {error}")


def _with_message(session: Session, taken: Claim, now: datetime) -> Job:
    """The push of a claim, worded as of `now` in the person's language; it lives no longer than its truth."""
    row = taken.reminder
    language = next((known for known in LANGUAGES if known == taken.language), LANGUAGES[0])
    jobmark = session.get(JobMark, (taken.company_id, row.job))
    head, text = row.title[language], row.words[language]
    if jobmark is not None and jobmark.state:
        telling = telling_of(row, jobmark.state, now)
        head, text = title(telling, language), body(telling, language)
    try:
        payload = payload_of(About(row.id, row.job, row.what, row.due), head, text, language, act(language))
    except PayloadTooLargeError as error:
        return taken, error
    ttl_s = max(1, int((taken.until - now).total_seconds()))
    urgency: Urgency = "high" if row.stage in URGENT else "normal"
    return taken, PushMessage(payload, ttl_s, topic_of(row.id), urgency)
