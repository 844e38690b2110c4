"""The windows of one load, member by member, and what the members say together."""

import math
from collections.abc import Callable, Mapping, Sequence
from dataclasses import dataclass

from slabtide.engine.bleeding import REABSORBED_SHARE
from slabtide.engine.clocks import time_at, time_at_age
from slabtide.engine.cracking import cracks_at
from slabtide.engine.ensemble import MEMBERS, Member, quantiles
from slabtide.engine.history import History
from slabtide.engine.load_state import LoadState
from slabtide.engine.pour import SawKind
from slabtide.engine.saw import STRESS_SHARE, STRESS_SHARE_SD, latest_cut_h, ravelling_limit_mpa
from slabtide.engine.setting import (
    TEXTURE_CLOSES_MPA,
    age_at_penetration_h,
    final_set_h,
    initial_set_h,
)
from slabtide.engine.spoiling import Spoil, first_spoil
from slabtide.engine.strength import age_at_strength_h
from slabtide.engine.surface import EDGE_SHARE, MAG_SHARE, TEXTURE_SHARE, footprint_age_h
from slabtide.engine.timeline import WindowName

Span = tuple[float, float]  # opens and closes [s]; infinity = not within reach

_OPENS: dict[WindowName, float] = {"edge": EDGE_SHARE, "mag": MAG_SHARE, "texture": TEXTURE_SHARE}
SURFACE_WORK: tuple[WindowName, ...] = ("edge", "mag", "texture")
_CLOSES_MPA: dict[WindowName, float] = {"edge": 0.7, "mag": 0.5, "texture": TEXTURE_CLOSES_MPA}  # EST
_OPEN_READING_SD, _CLOSE_READING_SD = 0.08, 0.045  # of log age (EST; the latter is 30 % of resistance)

_EVAPORATION_SD = 0.20  # of the logarithm (EST): formula and wind together; Hover (2020) tells of ±40 %

# Least ages, equivalent hours at 23 °C, and least hours to dry after the step before (EST). Wash: 24 h in
# heat, 72 h in cold. The sealer's own label overrides; many film sealers want 28 days.
_LEAST_AGE_H: dict[WindowName, float] = {"wash": 35.0, "colour": 48.0, "seal": 72.0}
_LEAST_WASH_S = 24 * 3600.0  # release lifts with the paste before a day is out, however warm (EST)
_DRYING_S: dict[WindowName, float] = {"wash": 0.0, "colour": 12 * 3600.0, "seal": 24 * 3600.0}

_NODES_Z = (-1.3, 0.0, 1.3)  # where cracking is worked out, of set factor and of the share at which it comes
_CRACK_SHARES = tuple(STRESS_SHARE * math.exp(STRESS_SHARE_SD * z) for z in _NODES_Z)
_UNSPOILT = Spoil(math.inf, "frost")


@dataclass(frozen=True, slots=True)
class Band:
    """What the members say of one window [s]. `opens` is None when more than half of them have none;
    `missing` is the share that has none, `why` the commonest reason: late, shut, or what spoils it."""

    opens: tuple[float, float, float] | None
    closes: tuple[float, float, float] | None
    missing: float
    why: str


def load_bands(state: LoadState) -> dict[WindowName, Band]:
    """Every window of a load. Source: the two clocks, strength and stress; see docs/engine.md."""
    bands = surface_bands(state)
    bands["saw"] = _band([(span, _UNSPOILT) for span in _saw_spans(state)], state)
    for name, opens in _later_work(state).items():
        bands[name] = _open_band(opens)
    return bands


def surface_bands(state: LoadState, names: Sequence[WindowName] = SURFACE_WORK) -> dict[WindowName, Band]:
    """The windows of work on the fresh surface, or some of them."""
    work = _surface_work(state, names)
    return {name: _band(work[name], state) for name in names}


def texture_spans(state: LoadState) -> list[Span]:
    """Per member when texturing opens and closes [s]; one without a window opens as it closes."""
    return _kept(_surface_work(state, ("texture",))["texture"], state)


def member_spans(state: LoadState) -> dict[WindowName, list[Span]]:
    """Per member when edging, magging, texturing and sawing open and close [s], as the bands count them."""
    spans = {name: _kept(work, state) for name, work in _surface_work(state, SURFACE_WORK).items()}
    spans["saw"] = _kept([(span, _UNSPOILT) for span in _saw_spans(state)], state)
    return spans


def resistance_times(state: LoadState, resistance_mpa: float) -> list[float]:
    """Per member when the top reaches a penetration resistance [MPa], as [s]; infinity if it doesn't."""
    mix = state.pour.mix
    age_h = age_at_penetration_h(resistance_mpa, initial_set_h(mix), final_set_h(mix))
    times = []
    for member in MEMBERS:
        history = state.histories[member.branch]
        needed_h = state.needed_h("top_age_h", age_h, state.factor_at(member.set_z))
        stiff = math.exp(_CLOSE_READING_SD * member.close_z)
        times.append(time_at(history.times_s, history.top_age_h, needed_h * stiff))
    return times


def _surface_work(
    state: LoadState, names: Sequence[WindowName]
) -> Mapping[WindowName, list[tuple[Span, Spoil]]]:
    """Edge, mag and texture: spans and what spoils them, per member."""
    mix = state.pour.mix
    footprint, initial, final = footprint_age_h(mix), initial_set_h(mix), final_set_h(mix)
    closes_h = {name: age_at_penetration_h(_CLOSES_MPA[name], initial, final) for name in names}
    spoils = [_spoil(state, history) for history in state.histories]
    opens_h = {name: _OPENS[name] * footprint for name in names}
    drawn_in_h = REABSORBED_SHARE * initial
    spans: dict[WindowName, list[tuple[Span, Spoil]]] = {name: [] for name in names}
    for member in MEMBERS:
        history = state.histories[member.branch]
        factor = state.factor_at(member.set_z)
        sheen_s = time_at(history.times_s, history.top_age_h, state.needed_h("top_age_h", drawn_in_h, factor))
        if history.film_dry_s is not None:
            sheen_s = min(sheen_s, _dried_s(history.times_s[0], history.film_dry_s, member))
        earliest = max(state.placed_to_s, sheen_s)
        firm, stiff = math.exp(_OPEN_READING_SD * member.open_z), math.exp(_CLOSE_READING_SD * member.close_z)
        for name in names:
            firm_h = state.needed_h("surface_age_h", opens_h[name], factor) * firm
            stiff_h = state.needed_h("top_age_h", closes_h[name], factor) * stiff
            opens = max(earliest, time_at(history.times_s, history.surface_age_h, firm_h))
            closes = time_at(history.times_s, history.top_age_h, stiff_h)
            spans[name].append(((opens, closes), spoils[member.branch]))
    return spans


def _spoil(state: LoadState, history: History) -> Spoil:
    """What would end the work. Concrete that lies there can't be called off: its clock is told as it runs,
    and a notice says what the weather does to it."""
    if state.placed:
        return _UNSPOILT
    return first_spoil(history, state.pour, state.load, state.set_factor)


def _dried_s(start_s: float, film_dry_s: float, member: Member) -> float:
    """When the film is gone, evaporation being no surer than it is: the wait moves as one over it."""
    return start_s + (film_dry_s - start_s) * math.exp(_EVAPORATION_SD * member.close_z)


def _saw_spans(state: LoadState) -> list[Span]:
    pour = state.pour
    kind: SawKind = pour.saw.kind if pour.saw else "conventional"
    limit = ravelling_limit_mpa(pour.mix.aggregate, kind)
    opens_h = age_at_strength_h(limit, pour.mix.design_strength_mpa) * pour.mix.strength_slowness
    latest_h = latest_cut_h(kind, opens_h)
    cracking = _cracking(state)
    spans = []
    for member in MEMBERS:
        history, factor = state.histories[member.branch], state.factor_at(member.set_z)
        reading = math.exp(_OPEN_READING_SD * member.open_z)
        clean_h = state.needed_h("mean_age_h", opens_h, factor) * reading
        opens = time_at(history.times_s, history.mean_age_h, clean_h)
        latest = time_at(history.times_s, history.mean_age_h, state.needed_h("mean_age_h", latest_h, factor))
        spans.append((opens, min(latest, cracking(member))))
    return spans


def _cracking(state: LoadState) -> Callable[[Member], float]:
    """Time of cracking per member: worked out at three set factors per branch and three shares of strength,
    straight between."""
    nodes = [
        [cracks_at(history, state.pour, state.factor_at(z), _CRACK_SHARES) for z in _NODES_Z]
        for history in state.histories
    ]

    def at(member: Member) -> float:
        by_factor = [_between(times, member.close_z) for times in nodes[member.branch]]
        return _between(by_factor, member.set_z)

    return at


def _between(times: Sequence[float], z: float) -> float:
    """The time at `z` from those at three nodes; the nearest where one of them is infinite."""
    low, mid, high = times
    share = z / _NODES_Z[2]
    far = high if share >= 0.0 else low
    if math.isinf(mid) or math.isinf(far):
        return far if abs(share) > 0.5 else mid
    return mid + (far - mid) * min(abs(share), 2.0)


def _later_work(state: LoadState) -> Mapping[WindowName, list[float]]:
    """Earliest times for wash, colour and seal, per member."""
    opens: dict[WindowName, list[float]] = {name: [] for name in _LEAST_AGE_H}
    for member in MEMBERS:
        factor = state.factor_at(member.set_z)
        after = state.placed_to_s + _LEAST_WASH_S
        for name, age_h in _LEAST_AGE_H.items():
            wait_h = state.needed_h("mean_age_h", age_h, factor)
            time = time_at_age(state.histories[member.branch], wait_h)
            after = max(time, after + _DRYING_S[name])
            opens[name].append(after)
    return opens


def _band(spans: Sequence[tuple[Span, Spoil]], state: LoadState) -> Band:
    """Put members together. Each has when it opens and closes, and what would end the work.

    A member with no window counts as one that shuts as it opens: what closes is told as it is, so that
    nobody is told of more time than there is.
    """
    kept = _kept(spans, state)
    faults = {"late": 0, "frost": 0, "rain": 0, "drying": 0, "shut": 0}
    for (opens, closes), spoil in spans:
        if math.isinf(opens) and math.isinf(spoil.at_s):
            faults["late"] += 1
        elif opens >= spoil.at_s:
            faults[spoil.why] += 1
        elif opens >= closes:
            faults["shut"] += 1
    missing = sum(faults.values()) / len(spans)
    why = max(faults, key=lambda name: faults[name])
    if missing > 0.5:
        return Band(None, None, missing, why)
    return Band(quantiles([s[0] for s in kept]), quantiles([s[1] for s in kept]), missing, why)


def _kept(spans: Sequence[tuple[Span, Spoil]], state: LoadState) -> list[Span]:
    """Spans as they are counted: ended by what spoils them and by the weather's end, none inside out."""
    ends = [h.times_s[-1] for h in state.histories]
    kept = []
    for member, ((opens, closes), spoil) in zip(MEMBERS, spans, strict=True):
        shut = min(closes, spoil.at_s, ends[member.branch])
        kept.append((min(opens, shut), shut))
    return kept


def _open_band(opens: Sequence[float]) -> Band:
    sound = [time for time in opens if not math.isinf(time)]
    missing = 1.0 - len(sound) / len(opens)
    if missing > 0.5:
        return Band(None, None, missing, "late")
    return Band(quantiles(sound), None, missing, "late")
