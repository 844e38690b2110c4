"""When one load in one branch of the weather would begin to crack by itself."""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence
from dataclasses import dataclass

from slabtide.engine.clocks import first_time, time_at
from slabtide.engine.history import History
from slabtide.engine.pour import Pour, Slab
from slabtide.engine.saw import STRESS_SHARE
from slabtide.engine.setting import final_set_h
from slabtide.engine.stress import Restraint, stress_ratios

_EVERY_S = 1800


@dataclass(frozen=True, slots=True)
class StressPath:
    """Stress ratio over time [s], from final set on."""

    times_s: tuple[int, ...]
    ratios: tuple[float, ...]


def restraint_of(slab: Slab) -> Restraint:
    """What holds a slab as it is told."""
    return Restraint(
        slab.thickness_m,
        slab.uncut_length_m,
        slab.base_friction,
        slab.neighbours,
        slab.reentrant_corners > 0,
    )


def stress_path(history: History, pour: Pour, set_factor: float, until_s: float = math.inf) -> StressPath:
    """The stress ratio of a load every half hour from its final set, to half an hour past `until_s` at most;
    empty if it never sets."""
    start_s = time_at(history.times_s, history.mean_age_h, final_set_h(pour.mix) * set_factor)
    if math.isinf(start_s):
        return StressPath((), ())
    first = bisect_left(history.times_s, start_s)
    born_s = history.times_s[0]
    picked = [
        i
        for i in range(first, bisect_right(history.times_s, until_s + _EVERY_S))
        if i == first or (history.times_s[i] - born_s) % _EVERY_S == 0
    ]
    times = [history.times_s[i] for i in picked]

    def at_picked(series: Sequence[float]) -> list[float]:
        return [series[i] for i in picked]

    ratios = stress_ratios(
        times,
        [history.mean_age_h[i] / set_factor / pour.mix.strength_slowness for i in picked],
        at_picked(history.surface_c),
        at_picked(history.mean_c),
        at_picked(history.lift_c),
        pour.mix.design_strength_mpa,
        restraint_of(pour.slab),
    )
    return StressPath(tuple(times), tuple(ratios))


def cracks_at(
    history: History, pour: Pour, set_factor: float, shares: Sequence[float] = (STRESS_SHARE,)
) -> list[float]:
    """Times [s] at which the tension reaches each share of the strength; infinity where it doesn't."""
    path = stress_path(history, pour, set_factor)
    if not path.times_s:
        return [math.inf for _ in shares]
    return [first_time(path.times_s, path.ratios, share) for share in shares]
