"""The windows of one load, member by member, and what the members say together."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from slabtide.engine.bleeding import REABSORBED_SHARE
from slabtide.engine.clocks import time_at, time_at_age
from slabtide.engine.ensemble import MEMBERS, Member, quantiles
from slabtide.engine.history import History
from slabtide.engine.load_state import OPEN_READING_SD, LoadState, Span
from slabtide.engine.saw_spans import saw_spans
from slabtide.engine.setting import (
    TEXTURE_CLOSES_MPA,
    age_at_penetration_h,
    final_set_h,
    initial_set_h,
)
from slabtide.engine.spoiling import Spoil, first_spoil
from slabtide.engine.surface import EDGE_SHARE, MAG_SHARE, TEXTURE_SHARE, footprint_age_h
from slabtide.engine.timeline import WindowName

_OPENS: dict[WindowName, float] = {"edge": EDGE_SHARE, "mag": MAG_SHARE, "texture": TEXTURE_SHARE}
SURFACE_WORK: tuple[WindowName, ...] = ("edge", "mag", "texture")
_CLOSES_MPA: dict[WindowName, float] = {"edge": 0.7, "mag": 0.5, "texture": TEXTURE_CLOSES_MPA}  # EST
_CLOSE_READING_SD = 0.045  # of log age (EST, 30 % of resistance)

_EVAPORATION_SD = 0.20  # of the logarithm (EST): formula and wind together; Hover (2020) tells of ±40 %

# Least ages, equivalent hours at 23 °C, and least hours to dry after the step before (EST). Wash: 24 h in
# heat, 72 h in cold. The sealer's own label overrides; many film sealers want 28 days.
_LEAST_AGE_H: dict[WindowName, float] = {"wash": 35.0, "colour": 48.0, "seal": 72.0}
_LEAST_WASH_S = 24 * 3600.0  # release lifts with the paste before a day is out, however warm (EST)
_DRYING_S: dict[WindowName, float] = {"wash": 0.0, "colour": 12 * 3600.0, "seal": 24 * 3600.0}

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
    bands["saw"] = _band([(span, _UNSPOILT) for span in saw_spans(state)], state)
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
    spans["saw"] = _kept([(span, _UNSPOILT) for span in saw_spans(state)], state)
    return spans


def resistance_times(state: LoadState, resistance_mpa: float) -> list[float]:
    """Per member when the top reaches a penetration resistance [MPa], as [s]; infinity if it doesn't."""
    mix = state.pour.mix
    age_h = age_at_penetration_h(resistance_mpa, initial_set_h(mix), final_set_h(mix))
    times = []
    for member in MEMBERS:
        needed_h = state.needed_h("top_age_h", age_h, state.factor_of(member))
        stiff = math.exp(_CLOSE_READING_SD * member.close_z)
        times.append(state.reached_s("top_age_h", needed_h * stiff, member))
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
        factor = state.factor_of(member)
        sheen_s = _sheen_gone_s(state, state.needed_h("top_age_h", drawn_in_h, factor), member)
        earliest = max(state.placed_to_s, sheen_s)
        firm, stiff = math.exp(OPEN_READING_SD * member.open_z), math.exp(_CLOSE_READING_SD * member.close_z)
        for name in names:
            firm_h = state.needed_h("surface_age_h", opens_h[name], factor) * firm
            stiff_h = state.needed_h("top_age_h", closes_h[name], factor) * stiff
            opens = max(earliest, state.reached_s("surface_age_h", firm_h, member))
            closes = state.reached_s("top_age_h", stiff_h, member)
            spans[name].append(((opens, closes), spoils[member.branch]))
    return spans


def _sheen_gone_s(state: LoadState, drawn_in_h: float, member: Member) -> float:
    """When the sheen is gone [s]: evaporated, or drawn back in at that age of the top."""

    def gone_s(history: History) -> float:
        drawn_in_s = time_at(history.times_s, history.top_age_h, drawn_in_h)
        if history.film_dry_s is None:
            return drawn_in_s
        return min(drawn_in_s, _dried_s(history.times_s[0], history.film_dry_s, member))

    return member.between(gone_s(state.likely), gone_s(state.histories[member.far]))


def _spoil(state: LoadState, history: History) -> Spoil:
    """What would end the work. Concrete that lies there can't be called off: its clock is told as it runs,
    and a notice says what the weather does to it."""
    if state.placed:
        return _UNSPOILT
    return first_spoil(history, state.pour, state.load, state.set_factor)


def _dried_s(start_s: float, film_dry_s: float, member: Member) -> float:
    """When the film is gone, evaporation being no surer than it is: the wait moves as one over it."""
    return start_s + (film_dry_s - start_s) * math.exp(_EVAPORATION_SD * member.close_z)


def _later_work(state: LoadState) -> Mapping[WindowName, list[float]]:
    """Earliest times for wash, colour and seal, per member."""
    opens: dict[WindowName, list[float]] = {name: [] for name in _LEAST_AGE_H}
    for member in MEMBERS:
        factor = state.factor_of(member)
        after = state.placed_to_s + _LEAST_WASH_S
        for name, age_h in _LEAST_AGE_H.items():
            wait_h = state.needed_h("mean_age_h", age_h, factor)
            middle, far = state.likely, state.histories[member.far]
            time = member.between(time_at_age(middle, wait_h), time_at_age(far, wait_h))
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
