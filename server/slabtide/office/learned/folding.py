"""What is known of a mix as a pure fold over closed jobs: the same jobs give the same, in whatever order and
however often they were closed."""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from datetime import datetime

from slabtide.engine.prior import PourResult, update_prior
from slabtide.office.learned.known import BOOK, Key, Known


@dataclass(frozen=True, slots=True)
class Pour:
    """A closed job as the fold takes it. `told` None: its checks told nothing. `aside`: not learned from."""

    job: str
    closed_at: datetime
    mix: str
    plant: str
    told: PourResult | None
    aside: bool = False


@dataclass(frozen=True, slots=True)
class Moved:
    """What is known before and after one pour; None before there was any."""

    before: Known | None
    after: Known | None


def counted(pours: Iterable[Pour]) -> list[Pour]:
    """Those that count, each job once, in order of closing."""
    once = {pour.job: pour for pour in pours if pour.told is not None and not pour.aside}
    return sorted(once.values(), key=lambda pour: (pour.closed_at, pour.job))


def known_from(pours: Iterable[Pour], key: Key) -> Known | None:
    """What is known for the next pour, named as the latest pour named it; None from no pour at all.

    pours -- of this mix and plant, or of whatever the key's empty parts stand for
    """
    return _known(counted(pours), key)


def path(pours: Iterable[Pour], key: Key, latest: int) -> list[tuple[Pour, Known]]:
    """The latest pours that count, each with what was known after it."""
    those = counted(pours)
    found = ((pour, _known(those[: n + 1], key)) for n, pour in enumerate(those) if n >= len(those) - latest)
    return [(pour, known) for pour, known in found if known is not None]


def moved_by(pours: Iterable[Pour], key: Key, job: str) -> Moved:
    """What this job's pour moved; the same before and after where it does not count."""
    those = counted(pours)
    place = next((n for n, pour in enumerate(those) if pour.job == job), None)
    if place is None:
        same = _known(those, key)
        return Moved(same, same)
    return Moved(_known(those[:place], key), _known(those[: place + 1], key))


def _known(pours: Sequence[Pour], key: Key) -> Known | None:
    if not pours:
        return None
    mean, sd = update_prior(BOOK, [pour.told for pour in pours if pour.told is not None])
    latest = pours[-1]
    return Known(latest.mix if key[0] else "", latest.plant if key[1] else "", len(pours), mean, sd)
