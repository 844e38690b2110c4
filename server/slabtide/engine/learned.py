"""What the checks changed, load by load, so that a screen can say it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from datetime import UTC, tzinfo

from slabtide.engine.history import History
from slabtide.engine.learning import Belief
from slabtide.engine.load_state import LoadState
from slabtide.engine.notice_wording import told
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Mix, Pour
from slabtide.engine.runs import Run, Seen, beliefs_after, believing
from slabtide.engine.timeline import Learned, LearnedChange, Notice
from slabtide.engine.windows import Band, surface_bands

_MOST_CHANGES = 8  # the latest; earlier ones are long taken in
_Z_10 = 1.2815515655446004


def learned_by_load(
    pour: Pour, runs: Sequence[Run], textures: Sequence[Band], seen: Seen, clock: Clock
) -> dict[str, Learned]:
    """What was learned of every load; `textures` are their windows by all that is known."""
    changes: dict[str, list[LearnedChange]] = {run.load.id: [] for run in runs}
    count = len(seen.readings)
    first = max(0, count - _MOST_CHANGES)
    beliefs = [beliefs_after(runs, pour, seen.readings[:n])[0] for n in range(first, count)]
    for run, texture in zip(runs, textures, strict=True) if count else ():
        bands = [_texture(run, told[run.load.id]) for told in beliefs]
        closes = [clock.at(band.closes[1]) if band.closes else None for band in (*bands, texture)]
        factors = [*(told[run.load.id].set_factor for told in beliefs[1:]), run.state.set_factor]
        for n, check in enumerate(seen.checks[first:]):
            faster = run.expected.set_factor / factors[n] - 1.0
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


@dataclass(frozen=True, slots=True)
class _Lying:
    """A load that lies there: all that its texturing rests on beside a belief. What spoils the work of one
    still to come rests on more."""

    mix: Mix
    placed_to_s: float
    histories: tuple[History, ...]
    slow: History
    ratio: float
    state: LoadState = field(compare=False)


def _texture(run: Run, belief: Belief) -> Band:
    state = run.state
    mix, histories = state.pour.mix, tuple(state.histories)
    lying = _Lying(mix, state.placed_to_s, histories, state.slow, state.ratio, state)
    return run.solved.of(_texture_of, lying, belief) if state.placed else _texture_of(lying, belief)


def _texture_of(lying: _Lying, belief: Belief) -> Band:
    return surface_bands(believing(lying.state, belief), ("texture",))["texture"]
