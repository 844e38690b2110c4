"""Which order of work loses least, where one crew, saw or sprayer can't be everywhere. Pure.

One resource does one piece of work at a time and does not leave it half done. A piece of work can't begin
before `ready` and is late by what it ends after `done_by`; an hour late costs its weight. Up to six pieces
are tried in every order; more are taken six at a time as they come.
"""

import math
from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta

from slabtide.office.conflicts.settings import EST, Settings

MOST_TRIED = 6
_HOUR = timedelta(hours=1)
_ROUNDING = 1e-9


@dataclass(frozen=True, slots=True)
class Work:
    """A piece of work: `ready` when it may begin, `lasts`, `done_by` when it must be over. Aware UTC."""

    job: str
    what: str
    subject: str
    ready: datetime
    lasts: timedelta
    done_by: datetime

    @property
    def begin_by(self) -> datetime:
        """The last moment to begin in time."""
        return self.done_by - self.lasts


@dataclass(frozen=True, slots=True)
class Turn:
    """A piece of work in its turn. `late`: zero where it is in time."""

    work: Work
    begins: datetime
    ends: datetime
    late: timedelta


@dataclass(frozen=True, slots=True)
class Clash:
    """`best`: the order that loses least; `as_it_comes`: what comes of taking each as it falls due.
    Losses are weighted hours."""

    best: tuple[Turn, ...]
    best_loss: float
    as_it_comes: tuple[Turn, ...]
    loss: float


def clashes(works: Iterable[Work], now: datetime, settings: Settings = EST) -> list[Clash]:
    """Where jobs lose by having one resource between them, if each work is taken as it falls due."""
    found = []
    for block in _blocks(as_it_comes(list(works), now, settings), settings):
        for start in range(0, len(block), MOST_TRIED):
            part = block[start : start + MOST_TRIED]
            several, loss = len({turn.work.job for turn in part}) > 1, _loss(part, settings)
            # What stood before these in their block is over when the first of them begins.
            free_at, together = part[0].begins if start else now, [turn.work for turn in part]
            if several and loss > 0 and loss > _loss_apart(together, free_at, settings) + _ROUNDING:
                found.append(_clash(together, part, free_at, settings))
    return found


def _loss_apart(works: Sequence[Work], free_at: datetime, settings: Settings) -> float:
    """What each job would lose if it had the resource to itself: two loads of one slab may be late on their
    own, and that is not for another job to mend."""
    by_job: dict[str, list[Work]] = {}
    for work in works:
        by_job.setdefault(work.job, []).append(work)
    return sum(_loss(as_it_comes(own, free_at, settings), settings) for own in by_job.values())


def as_it_comes(works: Sequence[Work], now: datetime, settings: Settings = EST) -> list[Turn]:
    """The turns where whoever is free takes, of what is ready, the one that must begin first."""
    left, turns, free_at, last = list(works), list[Turn](), now, ""
    while left:
        at = max(free_at, min(work.ready for work in left))
        ready = [work for work in left if work.ready <= at]
        work = min(ready, key=lambda one: (one.begin_by, one.job, one.what, one.subject))
        turn = _turn(work, free_at, last, settings)
        turns.append(turn)
        left.remove(work)
        free_at, last = turn.ends, work.job
    return turns


def in_order(works: Iterable[Work], free_at: datetime, settings: Settings = EST) -> list[Turn]:
    """The turns of works done one after another, in this order."""
    turns, last = list[Turn](), ""
    for work in works:
        turn = _turn(work, free_at, last, settings)
        turns.append(turn)
        free_at, last = turn.ends, work.job
    return turns


def _clash(works: list[Work], came: Sequence[Turn], free_at: datetime, settings: Settings) -> Clash:
    loss = _loss(came, settings)
    best = in_order((works[place] for place in _Search(works, free_at, settings).best()), free_at, settings)
    return Clash(tuple(best), _loss(best, settings), tuple(came), loss)


class _Search:
    """Every order, but for those that lose more before they are whole than another does in all. [s]"""

    def __init__(self, works: Sequence[Work], free_at: datetime, settings: Settings) -> None:
        self._jobs = [work.job for work in works]
        self._ready = [(work.ready - free_at).total_seconds() for work in works]
        self._lasts = [work.lasts.total_seconds() for work in works]
        self._done_by = [(work.done_by - free_at).total_seconds() for work in works]
        self._weights = [settings.weights.get(work.what, 1.0) / 3600 for work in works]
        self._between = settings.between_jobs.total_seconds()
        self._best: tuple[float, float, tuple[int, ...]] = (math.inf, math.inf, ())

    def best(self) -> tuple[int, ...]:
        """The places of the works in the order that loses least; of those, the one over first."""
        self._try((), 0.0, 0.0)
        return self._best[2]

    def _try(self, order: tuple[int, ...], free_at: float, loss: float) -> None:
        if loss > self._best[0]:
            return
        if len(order) == len(self._jobs):
            self._best = min(self._best, (loss, free_at, order))
            return
        for place, job in enumerate(self._jobs):
            if place in order:
                continue
            away = bool(order) and self._jobs[order[-1]] != job
            ends = max(self._ready[place], free_at + self._between * away) + self._lasts[place]
            late = max(0.0, ends - self._done_by[place])
            self._try((*order, place), ends, loss + late * self._weights[place])


def _turn(work: Work, free_at: datetime, last: str, settings: Settings) -> Turn:
    on_the_way = settings.between_jobs if last and last != work.job else timedelta(0)
    begins = max(work.ready, free_at + on_the_way)
    ends = begins + work.lasts
    return Turn(work, begins, ends, max(timedelta(0), ends - work.done_by))


def _blocks(turns: Sequence[Turn], settings: Settings) -> list[list[Turn]]:
    """Turns that push one another: each begins when the one before lets it, not when it is ready."""
    blocks: list[list[Turn]] = []
    for turn in turns:
        pushed = bool(blocks) and turn.work.ready < blocks[-1][-1].ends + settings.between_jobs
        if pushed:
            blocks[-1].append(turn)
        else:
            blocks.append([turn])
    return blocks


def _loss(turns: Iterable[Turn], settings: Settings) -> float:
    return sum(settings.weights.get(turn.work.what, 1.0) * (turn.late / _HOUR) for turn in turns)
