"""The windows of one load, member by member, and what the members say together."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass

from slabtide.engine.bleeding import REABSORBED_SHARE
from slabtide.engine.clocks import times_at, times_at_ages
from slabtide.engine.ensemble import MEMBERS, quantiles
from slabtide.engine.history import History
from slabtide.engine.load_state import LoadState, Span
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


@dataclass(frozen=True, slots=True)
class Work:
    """Per member when work opens and closes [s], and what would end it."""

    opens_s: Sequence[float]
    closes_s: Sequence[float]
    spoils: Sequence[Spoil]


def load_bands(state: LoadState) -> dict[WindowName, Band]:
    """Every window of a load. Source: the two clocks, strength and stress; see docs/engine.md."""
    bands = surface_bands(state)
    bands["saw"] = _band(_saw_work(state), state)
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
    works = _surface_work(state, SURFACE_WORK)
    spans = {name: _kept(works[name], state) for name in SURFACE_WORK}
    spans["saw"] = _kept(_saw_work(state), state)
    return spans


def resistance_times(state: LoadState, resistance_mpa: float) -> list[float]:
    """Per member when the top reaches a penetration resistance [MPa], as [s]; infinity if it doesn't."""
    mix = state.pour.mix
    age_h = age_at_penetration_h(resistance_mpa, initial_set_h(mix), final_set_h(mix))
    return _too_firm_s(state, age_h, state.factors())


def _surface_work(state: LoadState, names: Sequence[WindowName]) -> Mapping[WindowName, Work]:
    """Edge, mag and texture, each worked out once for a state."""
    works = state.works
    if missing := [name for name in names if name not in works]:
        works |= _worked_out(state, missing)
    return works


def _worked_out(state: LoadState, names: Sequence[WindowName]) -> Mapping[WindowName, Work]:
    mix, factors = state.pour.mix, state.factors()
    footprint, initial, final = footprint_age_h(mix), initial_set_h(mix), final_set_h(mix)
    by_branch = [_spoil(state, history) for history in state.histories]
    spoils = [by_branch[member.branch] for member in MEMBERS]
    placed_to_s = state.placed_to_s
    earliest = [max(placed_to_s, sheen_s) for sheen_s in _sheen_gone_s(state, initial, factors)]
    works: dict[WindowName, Work] = {}
    for name in names:
        firm_s = state.firm_s("surface_age_h", _OPENS[name] * footprint, factors)
        opens_s = [max(soonest, firm) for soonest, firm in zip(earliest, firm_s, strict=True)]
        closes_h = age_at_penetration_h(_CLOSES_MPA[name], initial, final)
        works[name] = Work(opens_s, _too_firm_s(state, closes_h, factors), spoils)
    return works


def _too_firm_s(state: LoadState, age_h: float, factors: Sequence[float]) -> list[float]:
    """Per member when the top has come to an age [h], as far as anyone tells it [s]."""
    needed = zip(MEMBERS, state.needed_h("top_age_h", age_h, factors), strict=True)
    return state.reached_s(
        "top_age_h", [wait_h * math.exp(_CLOSE_READING_SD * member.close_z) for member, wait_h in needed]
    )


def _sheen_gone_s(state: LoadState, initial_h: float, factors: Sequence[float]) -> list[float]:
    """Per member when the sheen is gone [s]: evaporated, or drawn back in on the way to initial set [h].

    Evaporation being no surer than it is, the wait for it moves as one over it.
    """
    drawn_in_h = state.needed_h("top_age_h", REABSORBED_SHARE * initial_h, factors)
    waits = [math.exp(_EVAPORATION_SD * member.close_z) for member in MEMBERS]

    def gone_s(history: History, asked: Sequence[tuple[float, float]]) -> list[float]:
        drawn_in_s = times_at(history.times_s, history.top_age_h, [age_h for age_h, _ in asked])
        if history.film_dry_s is None:
            return drawn_in_s
        start_s, span_s = history.times_s[0], history.film_dry_s - history.times_s[0]
        return [min(in_s, start_s + span_s * wait) for in_s, (_, wait) in zip(drawn_in_s, asked, strict=True)]

    return state.in_weather(gone_s, list(zip(drawn_in_h, waits, strict=True)))


def _spoil(state: LoadState, history: History) -> Spoil:
    """What would end the work. Concrete that lies there can't be called off: its clock is told as it runs,
    and a notice says what the weather does to it."""
    if state.placed:
        return _UNSPOILT
    return first_spoil(history, state.pour, state.load, state.set_factor)


def _saw_work(state: LoadState) -> Work:
    opens_s, closes_s = saw_spans(state)
    return Work(opens_s, closes_s, [_UNSPOILT] * len(MEMBERS))


def _later_work(state: LoadState) -> Mapping[WindowName, list[float]]:
    """Earliest times for wash, colour and seal, per member."""
    opens: dict[WindowName, list[float]] = {}
    factors, after = state.factors(), [state.placed_to_s + _LEAST_WASH_S] * len(MEMBERS)
    for name, age_h in _LEAST_AGE_H.items():
        old_s = state.in_weather(times_at_ages, state.needed_h("mean_age_h", age_h, factors))
        dried_s = _DRYING_S[name]
        opens[name] = after = [max(old, done + dried_s) for old, done in zip(old_s, after, strict=True)]
    return opens


def _band(work: Work, state: LoadState) -> Band:
    """Put members together. Each has when it opens and closes, and what would end the work.

    A member with no window counts as one that shuts as it opens: what closes is told as it is, so that
    nobody is told of more time than there is.
    """
    kept = _kept(work, state)
    faults = {"late": 0, "frost": 0, "rain": 0, "drying": 0, "shut": 0}
    for opens, closes, spoil in zip(work.opens_s, work.closes_s, work.spoils, strict=True):
        if opens < closes and opens < spoil.at_s:
            continue
        if math.isinf(opens) and math.isinf(spoil.at_s):
            faults["late"] += 1
        elif opens >= spoil.at_s:
            faults[spoil.why] += 1
        else:
            faults["shut"] += 1
    missing = sum(faults.values()) / len(kept)
    why = max(faults, key=lambda name: faults[name])
    if missing > 0.5:
        return Band(None, None, missing, why)
    return Band(quantiles([s[0] for s in kept]), quantiles([s[1] for s in kept]), missing, why)


def _kept(work: Work, state: LoadState) -> list[Span]:
    """Spans as they are counted: ended by what spoils them and by the weather's end, none inside out."""
    ends = [h.times_s[-1] for h in state.histories]
    shuts = [
        min(closes, spoil.at_s, ends[member.branch])
        for member, closes, spoil in zip(MEMBERS, work.closes_s, work.spoils, strict=True)
    ]
    return [(min(opens, shut), shut) for opens, shut in zip(work.opens_s, shuts, strict=True)]


def _open_band(opens: Sequence[float]) -> Band:
    sound = [time for time in opens if not math.isinf(time)]
    missing = 1.0 - len(sound) / len(opens)
    if missing > 0.5:
        return Band(None, None, missing, "late")
    return Band(quantiles(sound), None, missing, "late")
