"""When the saw may start and must be done, member by member."""

import math
from bisect import bisect_left
from collections.abc import Callable
from itertools import accumulate

from slabtide.engine.clocks import time_at
from slabtide.engine.cracking import stress_path
from slabtide.engine.ensemble import BRANCHES, LIKELY, MEMBERS, between
from slabtide.engine.history import History
from slabtide.engine.load_state import LoadState
from slabtide.engine.pour import SawKind
from slabtide.engine.saw import STRESS_SHARE, STRESS_SHARE_SD, latest_cut_h, ravelling_limit_mpa
from slabtide.engine.strength import age_at_strength_h

_FACTOR_Z = (-2.0, -1.0, 0.0, 1.0, 2.0)  # set factors at which cracking is worked out


def saw_spans(state: LoadState) -> tuple[list[float], list[float]]:
    """Per member when it opens, past ravelling, and when it closes, as it would crack or where no cut is
    trusted to help [s]; infinity = not within reach."""
    pour = state.pour
    kind: SawKind = pour.saw.kind if pour.saw else "conventional"
    limit = ravelling_limit_mpa(pour.mix.aggregate, kind)
    opens_h = age_at_strength_h(limit, pour.mix.design_strength_mpa) * pour.mix.strength_slowness
    latest_h, factors = latest_cut_h(kind, opens_h), state.factors()
    opens_s = state.firm_s("mean_age_h", opens_h, factors)
    latest_s = state.reached_s("mean_age_h", state.needed_h("mean_age_h", latest_h, factors))
    begins_s, ends_s = state.likely.times_s[0], state.likely.times_s[-1]
    closes_s = [
        latest if share >= 1.0 else begins_s + share * (min(latest, ends_s) - begins_s)
        for latest, share in zip(latest_s, _cracking(state, latest_h), strict=True)
    ]
    return opens_s, closes_s


def _cracking(state: LoadState, latest_h: float) -> list[float]:
    """Per member when it cracks, as a share of its wait for the latest cut (1: not before it). Worked out in
    each branch of the weather at some set factors, straight between."""
    nodes = [
        [_crack_share(state, history, state.factor_in(weather_z, z), latest_h) for z in _FACTOR_Z]
        for weather_z, history in zip(BRANCHES, state.histories, strict=True)
    ]
    likely: list[float] = []
    far: list[float] = []
    for member in MEMBERS:
        strength_share = STRESS_SHARE * math.exp(STRESS_SHARE_SD * member.close_z)
        place = min(max(member.set_z, _FACTOR_Z[0]), _FACTOR_Z[-1]) - _FACTOR_Z[0]
        index = min(int(place), len(_FACTOR_Z) - 2)
        for shares, found in ((nodes[LIKELY], likely), (nodes[member.far], far)):
            before, after = shares[index](strength_share), shares[index + 1](strength_share)
            found.append(before + (after - before) * (place - index))
    return between(likely, far)


def _crack_share(
    state: LoadState, history: History, factor: float, latest_h: float
) -> Callable[[float], float]:
    """For one branch and set factor: when tension comes to a share of strength, as a share of the wait for
    the latest cut (or for the weather's end)."""
    (needed_h,) = state.needed_h("mean_age_h", latest_h, [factor])
    latest_s = time_at(history.times_s, history.mean_age_h, needed_h)
    path = stress_path(history, state.pour, factor, latest_s)
    peaks = list(accumulate(path.ratios, max))
    begins_s = history.times_s[0]
    wait_s = max(1.0, min(latest_s, history.times_s[-1]) - begins_s)

    def share(strength_share: float) -> float:
        index = bisect_left(peaks, strength_share)
        if index == len(peaks):
            return 1.0
        time = float(path.times_s[index])
        if index > 0:
            before, after = path.ratios[index - 1], path.ratios[index]
            step_s = path.times_s[index] - path.times_s[index - 1]
            time -= step_s * (after - strength_share) / (after - before)
        return min(1.0, (time - begins_s) / wait_s)

    return share
