"""Which order of work loses least, where one crew, saw or sprayer can't be everywhere. Pure.

One resource does one piece of work at a time and does not leave it half done. A piece of work can't begin
before `ready` and is late by what it ends after `done_by`; an hour late costs its weight. Up to six pieces
are tried in every order; more are taken six at a time as they come.
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime, timedelta
from itertools import permutations

from slabtide.office.conflicts.settings import EST, Settings

MOST_TRIED = 6
_HOUR = timedelta(hours=1)


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
    """Where the work of one resource can't all be in time if each is taken as it falls due."""
    found = []
    for block in _blocks(as_it_comes(list(works), now, settings), settings):
        for start in range(0, len(block), MOST_TRIED):
            part = block[start : start + MOST_TRIED]
            several = len({turn.work.job for turn in part}) > 1
            if several and _loss(part, settings) > 0:
                # What stood before these in their block is over when the first of them begins.
                free_at = part[0].begins if start else now
                found.append(_clash([turn.work for turn in part], part, free_at, settings))
    return found


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
    tried = (in_order(order, free_at, settings) for order in permutations(works))
    best = min(tried, key=lambda turns: (_loss(turns, settings), turns[-1].ends))
    return Clash(tuple(best), _loss(best, settings), tuple(came), _loss(came, settings))


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
