"""When one load in one branch of the weather would begin to crack by itself, or freeze."""

import math
from bisect import bisect_left
from collections.abc import Sequence
from dataclasses import dataclass

from slabtide.engine.clocks import first_time, time_at
from slabtide.engine.history import History
from slabtide.engine.pour import Pour
from slabtide.engine.saw import STRESS_SHARE, SURFACE_DROP_K
from slabtide.engine.setting import final_set_h
from slabtide.engine.strength import age_at_strength_h
from slabtide.engine.stress import stress_ratios

FROST_PROOF_MPA = 3.45  # ACI 306: no freezing before 500 psi
_FREEZES_C = -1.0
_EVERY_S = 1800
_WATCH_DROP_S = 36 * 3600


@dataclass(frozen=True, slots=True)
class StressPath:
    """Stress ratio over time [s], from final set on."""

    times_s: tuple[int, ...]
    ratios: tuple[float, ...]


def stress_path(history: History, pour: Pour, set_factor: float) -> StressPath:
    """The stress ratio of a load every half hour from its final set; empty if it never sets."""
    start_s = time_at(history.times_s, history.mean_age_h, final_set_h(pour.mix) * set_factor)
    if math.isinf(start_s):
        return StressPath((), ())
    first = bisect_left(history.times_s, start_s)
    born_s = history.times_s[0]
    picked = [
        i
        for i in range(first, len(history.times_s))
        if i == first or (history.times_s[i] - born_s) % _EVERY_S == 0
    ]
    times = [history.times_s[i] for i in picked]

    def at_picked(series: Sequence[float]) -> list[float]:
        return [series[i] for i in picked]

    ratios = stress_ratios(
        times,
        [history.mean_age_h[i] / set_factor for i in picked],
        at_picked(history.surface_c),
        at_picked(history.mean_c),
        at_picked(history.lift_c),
        pour.mix.design_strength_mpa,
        pour.slab.thickness_m,
        pour.slab.uncut_length_m,
    )
    return StressPath(tuple(times), tuple(ratios))


def cracks_at(history: History, pour: Pour, set_factor: float) -> float:
    """Time [s] by which the saw must be done for stress or for the surface's drop from its first peak;
    infinity if neither comes within the history."""
    path = stress_path(history, pour, set_factor)
    if not path.times_s:
        return math.inf
    return min(first_time(path.times_s, path.ratios, STRESS_SHARE), drops_at(history, path.times_s[0]))


def drops_at(history: History, from_s: float) -> float:
    """Time [s] at which the surface has fallen 8.3 K (15 °F) from its peak after `from_s`, in 36 h; or
    infinity."""
    peak = -math.inf
    for time, surface in zip(history.times_s, history.surface_c, strict=True):
        if time < from_s:
            continue
        if time > from_s + _WATCH_DROP_S:
            break
        peak = max(peak, surface)
        if peak - surface >= SURFACE_DROP_K:
            return float(time)
    return math.inf


def freezes_at(history: History, design_strength_mpa: float, set_factor: float) -> float:
    """Time [s] at which the surface freezes before the concrete can bear it; infinity if it doesn't."""
    safe_h = age_at_strength_h(FROST_PROOF_MPA, design_strength_mpa) * set_factor
    for time, surface, age in zip(history.times_s, history.surface_c, history.mean_age_h, strict=True):
        if age >= safe_h:
            return math.inf
        if surface < _FREEZES_C:
            return float(time)
    return math.inf
