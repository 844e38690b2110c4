"""Many reminders over simulated days: workers killed, a push service that is slow, failing, limiting, gone.

The clock is simulated and moves in steps of `STEP`; the processes, their deaths, the database, the pushes and
their encryption are real. What each phone shows is what its push service decrypted, one for each tag.
"""

import os
import random
import subprocess
import sys
import threading
import time
import uuid
from collections import defaultdict
from dataclasses import dataclass, field
from datetime import UTC, datetime, timedelta
from typing import Any

from sqlalchemy import func, select
from tests.reminders.conftest import Scene, saw_timeline

from slabtide.store.session import read
from slabtide.store.tables import Delivery, Reminder

STEP = timedelta(seconds=2)  # as the running server ticks
LATE = timedelta(seconds=30)
FIRST_DAY = datetime(2026, 7, 14, 5, 0, tzinfo=UTC)  # midnight in Chicago
FAULTS = ("slow", "failing", "limiting", "gone")
FAULT_LASTS = timedelta(minutes=4)  # pauses between tries outgrow LATE by then
SLOW_S = 0.25
CATCH_S = 10.0  # in which a worker that has something to send begins to


@dataclass(frozen=True)
class Fault:
    """What the push service does from one moment to another."""

    kind: str
    starts: datetime
    ends: datetime


@dataclass(frozen=True)
class Arrival:
    """A push that the service took: whose phone, which reminder, when by the simulated clock."""

    phone: str
    reminder: str
    at: datetime


@dataclass
class Verdict:
    """What came of it all."""

    reminders: int
    wanted: int
    shown: int
    twice: int
    kills: int
    ticks: int
    late_by_fault: int
    met: frozenset[str]
    late_otherwise: list[str] = field(default_factory=list)
    lost: list[str] = field(default_factory=list)

    def __str__(self) -> str:
        return (
            f"{self.reminders} reminders to {self.wanted} phones, {self.shown} shown, {len(self.lost)} lost, "
            f"{self.twice} pushed twice under their tag in {self.kills} kills, "
            f"{self.late_by_fault} late by a fault of the service, "
            f"{len(self.late_otherwise)} late otherwise, {self.ticks} ticks"
        )


class Worker:
    """One worker process; killed without warning, begun again."""

    def __init__(self, environment: dict[str, str]) -> None:
        self.environment = environment
        self.begin()

    def begin(self) -> None:
        command = [sys.executable, "-m", "tests.reminders.soak_worker"]
        pipe = subprocess.PIPE
        self.process = subprocess.Popen(
            command, env=self.environment, stdin=pipe, stdout=pipe, text=True, bufsize=1
        )
        assert self.answer() == "ready"

    def tell(self, now: datetime) -> None:
        assert self.process.stdin
        self.process.stdin.write(now.isoformat() + "\n")
        self.process.stdin.flush()

    def answer(self) -> str:
        assert self.process.stdout
        said = self.process.stdout.readline().strip()
        assert said, "a worker ended by itself"
        return said

    def kill(self) -> None:
        self.process.kill()
        self.end()

    def end(self) -> None:
        assert self.process.stdin
        self.process.stdin.close()  # its loop ends, and the sends under way with it
        self.process.wait(timeout=30)
        assert self.process.stdout
        self.process.stdout.close()


class Soak:
    """`jobs` slabs to saw over `days`, four stages each, told to `phones` foremen by `workers` processes."""

    def __init__(
        self, scene: Scene, environment: dict[str, str], seed: int, jobs: int, days: int, phones: int
    ) -> None:
        self.scene, self.chance = scene, random.Random(seed)
        self.environment = os.environ | environment
        self.now = FIRST_DAY
        self.ends = FIRST_DAY + timedelta(days=days + 1)
        self.arrivals: list[Arrival] = []
        self.told: set[str] = set()
        self.seen = 0
        self.faults: list[Fault] = []
        self.strikes: list[Fault] = []
        self.met: set[str] = set()
        self.hunting, self.caught, self.struck = (threading.Event() for _ in range(3))
        self.phones = [f"p{number}" for number in range(phones)]
        self.jobs = jobs
        self.days = days
        self._plan()
        scene.service.answer = self._serve

    def _plan(self) -> None:
        """Each slab opens between 9 and 12 and closes five hours later: no quiet hours between.

        In each quarter of a day's reminders the service is at fault once, while one of them falls due.
        """
        for _ in range(self.jobs):
            day = FIRST_DAY + timedelta(days=self.chance.randrange(self.days))
            opens = day + timedelta(hours=9, minutes=5 * self.chance.randrange(36))
            job = str(uuid.UUID(int=self.chance.getrandbits(128)))
            self.scene.derive(FIRST_DAY, saw_timeline(opens, opens + timedelta(hours=5)), job=job)
        with self.scene.app.app_context(), read() as session:
            every = sorted(session.scalars(select(Reminder.due)))
        for day in range(self.days):
            begins = FIRST_DAY + timedelta(days=day)
            due = [one for one in every if begins <= one < begins + timedelta(days=1)]
            for number, kind in enumerate(FAULTS if due else ()):
                struck = due[self.chance.randrange(len(due) * number // 4, len(due) * (number + 1) // 4)]
                starts = struck - timedelta(seconds=self.chance.randrange(20, 220))
                self.faults.append(Fault(kind, starts, starts + FAULT_LASTS))

    def _fault(self) -> str | None:
        return next((one.kind for one in self.faults if one.starts <= self.now < one.ends), None)

    def _serve(self, phone: str) -> tuple[int, dict[str, str]]:
        kind = self._fault()
        if kind is not None:
            self.met.add(kind)
        if self.hunting.is_set():
            self.caught.set()
            self.struck.wait(CATCH_S)  # its sender is dead by now, and its phone has shown nothing
            return 503, {}
        if kind == "slow":
            time.sleep(SLOW_S)
        if kind == "limiting":
            return 429, {"Retry-After": "20"}
        if kind == "failing":
            return 503, {}
        return (502, {}) if kind == "gone" else (201, {})

    def run(self, workers: int, kills: int) -> Verdict:
        """Until every reminder has been told, or its time is over."""
        team = [Worker(self.environment) for _ in range(workers)]
        # The last of them early enough that a tick is left to die in.
        at_random = iter(sorted(self.chance.uniform(0, 0.9) for _ in range(kills)))
        deadly = next(at_random, 2.0)
        ticks = killed = 0
        busy_total = max(1, self.jobs * 4)
        try:
            while (nextly := self._next()) is not None and nextly < self.ends:
                self.now = nextly
                hunting = len(self.told) / busy_total >= deadly and self._anything_to_send()
                if hunting:
                    self._lie_in_wait()
                for one in team:
                    one.tell(self.now)
                self._note_arrivals()
                if hunting and self.caught.wait(CATCH_S):
                    deadly = next(at_random, 2.0)
                    self._strike(self.chance.choice(team))
                    killed += 1
                self.hunting.clear()
                self.struck.set()
                for one in team:
                    one.answer()
                self._note_arrivals()
                ticks += 1
        finally:
            for one in team:
                one.end()
        return self._verdict(ticks, killed)

    def _lie_in_wait(self) -> None:
        """The next push is held by the service until a worker has been struck."""
        self.caught.clear()
        self.struck.clear()
        self.hunting.set()

    def _strike(self, worker: Worker) -> None:
        """Dead while it sends; begun again, it ticks at the same moment.

        What the service held meanwhile, of the living too, it refuses: a fault of its own, for that moment.
        """
        self.strikes.append(Fault("struck", self.now - STEP, self.now + STEP))
        worker.kill()
        self.hunting.clear()
        self.struck.set()
        worker.begin()
        worker.tell(self.now)

    def _anything_to_send(self) -> bool:
        with self.scene.app.app_context(), read() as session:
            ready = select(Delivery.reminder_id).where(
                Delivery.state == "pending", Delivery.next_try_at <= self.now
            )
            ripe = select(Reminder.id).where(Reminder.state == "planned", Reminder.due <= self.now)
            return any(session.scalar(query.limit(1)) is not None for query in (ready, ripe))

    def _note_arrivals(self) -> None:
        """What the service took since it was last asked, at the moment that is now."""
        arrived = self.scene.service.arrived
        until = len(arrived)
        for one in arrived[self.seen : until]:
            if one.answered == 201:
                reminder = one.message["notification"]["tag"]
                self.arrivals.append(Arrival(one.phone, reminder, self.now))
                self.told.add(reminder)
        self.seen = until

    def _next(self) -> datetime | None:
        """The next step while something is on its way; else the next moment at which something falls due."""
        with self.scene.app.app_context(), read() as session:
            open_states = ("pending", "claimed")
            waiting = session.scalar(select(func.count()).where(Delivery.state.in_(open_states)))
            due = session.scalar(select(func.count()).where(Reminder.state == "due"))
            ahead = session.scalar(select(func.min(Reminder.due)).where(Reminder.state == "planned"))
        if waiting or due:
            return self.now + STEP
        return None if ahead is None else max(ahead, self.now + STEP)

    def _verdict(self, ticks: int, killed: int) -> Verdict:
        self._note_arrivals()
        first: dict[tuple[str, str], datetime] = {}
        times: dict[tuple[str, str], int] = defaultdict(int)
        for one in self.arrivals:
            key = (one.phone, one.reminder)
            times[key] += 1
            first.setdefault(key, one.at)
        with self.scene.app.app_context(), read() as session:
            rows = {row.id: (row.due, row.state, row.stage) for row in session.scalars(select(Reminder))}
        wanted = [(phone, reminder) for phone in self.phones for reminder in rows]
        verdict = Verdict(len(rows), len(wanted), len(first), 0, killed, ticks, 0, frozenset(self.met))
        verdict.twice = sum(count - 1 for count in times.values())
        for key in wanted:
            due, state, stage = rows[key[1]]
            if key not in first:
                verdict.lost.append(f"{key[0]} {stage} due {due:%d %H:%M}: {state}")
            elif first[key] - due > LATE and self._excused(due, first[key]):
                verdict.late_by_fault += 1
            elif first[key] - due > LATE:
                verdict.late_otherwise.append(
                    f"{key[0]} {stage} due {due:%d %H:%M:%S}: {first[key]:%H:%M:%S}"
                )
        return verdict

    def _excused(self, due: datetime, told: datetime) -> bool:
        """The service was at fault between due and half a minute before it was told."""
        faults = [*self.faults, *self.strikes]
        return any(one.starts < told and one.ends > due and told - one.ends <= LATE for one in faults)


def environment_of(**more: Any) -> dict[str, str]:
    """What a worker needs to stand on the same database: its home, or the database's address too."""
    settings = {"SLABTIDE_PUSH_HOSTS": "127.0.0.1", "SLABTIDE_PUSH_CONTACT": "mailto:office@slab.test"}
    return settings | {name: str(value) for name, value in more.items()}
