"""What the crew should be told early: the tamper, more hands, how far ahead to lay release."""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from slabtide.engine.clocks import value_at
from slabtide.engine.crew import CrewRate, crew_rate
from slabtide.engine.ensemble import quantiles
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Texturing
from slabtide.engine.race import Leg, Passage, chance_to_miss, run_race
from slabtide.engine.runs import Run
from slabtide.engine.timeline import PaceCall, ReleaseLead

TAMPER_LIKELY = 0.5  # from this chance on the tamper is called for (EST)
ADD_HANDS_FROM = 0.20  # chance to miss from which hands are called for (EST)
_HANDS_HELP_BY = 0.10  # by which they must lessen it (EST)
_ENOUGH = 0.10
_ONE_MORE_HELPS_BY = 0.05  # each further hand (EST)
_MOST_HANDS = 3
_NO_LATER_THAN = 0.05  # of the chance that waiting for them may cost (EST)
RELEASE_FILM_KG_M2 = 0.2  # a gallon of liquid release on 200 ft2 (EST); it is gone when that much has dried
RELEASE_SHORT_MIN = 30.0  # release that lasts less is called out (EST)
_MOST_RELEASE_MIN = 120.0


def tamper_chance(leg: Leg, passage: Passage) -> float:
    """Share of members in which part of a load stiffens past what body weight prints before it is done."""
    pairs = zip(leg.tamper_s, passage.finished_s, strict=True)
    return sum(tamper < finished for tamper, finished in pairs) / len(leg.tamper_s)


def calls_for(
    legs: Sequence[Leg],
    passages: Sequence[Passage],
    texturing: Texturing,
    speed: float,
    ready_s: float,
    release: ReleaseLead,
    clock: Clock,
) -> tuple[PaceCall, ...]:
    """Everything to be told, in order of time.

    legs, passages -- the race from here on, and how it goes with the crew there is
    speed -- the share of the told pace they keep
    ready_s -- when they are ready [s from the first weather hour]
    """
    found = [
        *_tamper(legs, passages, clock),
        *_hands(legs, texturing, speed, ready_s, clock),
        *_release(legs, passages, release, clock),
    ]
    return tuple(sorted(found, key=lambda call: call.at))


def release_lead(run: Run, reached_s: float, rate_m2_h: float) -> ReleaseLead:
    """How long release stays good on the next load, and how much of it the crew works in that time.

    reached_s -- when that load is reached [s]
    rate_m2_h -- what the crew prints in an hour

    Source: a film of the usual coverage against Menzel's evaporation from a wet surface (EST).
    """
    history = run.likely
    at_s = min(max(reached_s, history.times_s[0]), history.times_s[-1])
    loss = value_at(history.times_s, history.demand, at_s)
    minutes = _MOST_RELEASE_MIN if loss <= 0.0 else 60.0 * RELEASE_FILM_KG_M2 / loss
    minutes = min(_MOST_RELEASE_MIN, minutes)
    return ReleaseLead(run.load.id, minutes, rate_m2_h * minutes / 60.0)


def _tamper(legs: Sequence[Leg], passages: Sequence[Passage], clock: Clock) -> Iterator[PaceCall]:
    """The first load that body weight will not print to its end."""
    for leg, passage in zip(legs, passages, strict=True):
        chance = tamper_chance(leg, passage)
        if chance >= TAMPER_LIKELY:
            from_s = max(quantiles(leg.tamper_s)[1], quantiles(passage.reached_s)[1])
            yield PaceCall("tamper", leg.id, clock.at(from_s), {"chance": chance})
            return


def _hands(
    legs: Sequence[Leg], texturing: Texturing, speed: float, ready_s: float, clock: Clock
) -> Iterator[PaceCall]:
    """The fewest hands that make it safe, and the latest load from which they still do."""
    own = crew_rate(texturing).times(speed)
    alone = chance_to_miss(run_race(legs, own, ready_s))
    if alone < ADD_HANDS_FROM:
        return
    best: tuple[float, int, CrewRate] | None = None
    for more in range(1, _MOST_HANDS + 1):
        rate = crew_rate(replace(texturing, people=texturing.people + more)).times(speed)
        chance = chance_to_miss(run_race(legs, rate, ready_s))
        if best is None or chance <= best[0] - _ONE_MORE_HELPS_BY:
            best = (chance, more, rate)
        if chance <= _ENOUGH:
            break
    if best is None or best[0] > alone - _HANDS_HELP_BY:
        return
    chance, more, rate = best
    at_once = run_race(legs, rate, ready_s)
    for first in range(len(legs) - 1, -1, -1):
        rates = [own] * first + [rate] * (len(legs) - first)
        later = chance_to_miss(run_race(legs, rates, ready_s))
        if first == 0 or later <= chance + _NO_LATER_THAN:
            by_s = quantiles(at_once[first].reached_s)[1]
            params = {"people": float(more), "chance_before": alone, "chance_after": later}
            yield PaceCall("add_hands", legs[first].id, clock.at(by_s), params)
            return


def _release(
    legs: Sequence[Leg], passages: Sequence[Passage], release: ReleaseLead, clock: Clock
) -> Iterator[PaceCall]:
    if release.lasts_minutes < RELEASE_SHORT_MIN:
        at = clock.at(quantiles(passages[0].reached_s)[1])
        params = {"lasts_minutes": release.lasts_minutes, "ahead_m2": release.ahead_m2}
        yield PaceCall("hold_release", legs[0].id, at, params)
