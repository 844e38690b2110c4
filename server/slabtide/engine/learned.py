"""What the checks changed, load by load, so that a screen can say it."""

from collections.abc import Iterator, Sequence
from datetime import UTC, datetime, tzinfo

from slabtide.engine.learning import Belief
from slabtide.engine.load_state import LoadState
from slabtide.engine.notice_wording import told
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Pour
from slabtide.engine.runs import Run, Seen, beliefs_after, believing
from slabtide.engine.timeline import Learned, LearnedChange, Notice
from slabtide.engine.windows import surface_bands

_MOST_CHANGES = 8  # the latest; earlier ones are long taken in
_Z_10 = 1.2815515655446004


def learned_by_load(pour: Pour, runs: Sequence[Run], seen: Seen, clock: Clock) -> dict[str, Learned]:
    """What was learned of every load."""
    changes: dict[str, list[LearnedChange]] = {run.load.id: [] for run in runs}
    count = len(seen.readings)
    first = max(0, count - _MOST_CHANGES)
    beliefs = [beliefs_after(runs, pour, seen.readings[:n])[0] for n in range(first, count + 1)]
    for run in runs if count else ():
        closes = [_texture_closes(run.state, told[run.load.id], clock) for told in beliefs]
        for n, check in enumerate(seen.checks[first:]):
            faster = run.expected.set_factor / beliefs[n + 1][run.load.id].set_factor - 1.0
            was, now = closes[n], closes[n + 1]
            at = check.at.astimezone(UTC)
            changes[run.load.id].append(LearnedChange(check.load, at, check.kind, 100.0 * faster, was, now))
    odd = [seen.checks[i] for i in sorted(seen.contradictory)]
    return {
        run.load.id: Learned(
            set_factor=_band(run.state),
            from_checks=count,
            changes=tuple(changes[run.load.id]),
            contradictory=tuple(check for check in odd if check.load == run.load.id),
        )
        for run in runs
    }


def contradiction_notices(seen: Seen, zone: tzinfo) -> Iterator[Notice]:
    """One notice for each check that does not fit."""
    for i in sorted(seen.contradictory):
        check = seen.checks[i]
        at = check.at.astimezone(UTC)
        yield told("check_contradicts", check.load, at, at, zone, kind=check.kind)


def _band(state: LoadState) -> tuple[float, float, float]:
    return state.factor_at(-_Z_10), state.set_factor, state.factor_at(_Z_10)


def _texture_closes(state: LoadState, belief: Belief, clock: Clock) -> datetime | None:
    closes = surface_bands(believing(state, belief), ("texture",))["texture"].closes
    return clock.at(closes[1]) if closes else None
