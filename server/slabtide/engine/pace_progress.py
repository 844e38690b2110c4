"""How far the crew has come: what is textured, where they are, and the pace they really keep."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import datetime

from slabtide.engine.crew import CrewRate
from slabtide.engine.ensemble import quantiles
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Worked
from slabtide.engine.race import Leg, Passage

MOST_OF_A_PART = 0.9  # what is not called done is never taken as wholly done (EST)
_PRIOR_H = 0.5  # how long the pace told counts beside the pace seen (EST)
_SLOWEST, _FASTEST = 0.5, 1.5  # of the pace told: past these the marks are off, not the crew (EST)
_TIMED_SHARE = 0.2  # done in less of its time than this, it was marked afterwards (EST)
_REST_M2 = 0.05


@dataclass(frozen=True, slots=True)
class Progress:
    """What stands at a time: area done per load [m2], the load being worked (None = none), the share of the
    told pace that the crew keeps, and the minutes that rests on."""

    done_m2: Mapping[str, float]
    at_work: str | None
    begun: bool
    speed: float
    timed_minutes: float


def progress_of(
    worked: Sequence[Worked], legs: Sequence[Leg], rate: CrewRate, at: datetime, clock: Clock
) -> Progress:
    """What was worked by `at`. A part still being worked counts by the pace the crew keeps."""
    now_s = clock.seconds(at)
    seen = sorted((one for one in worked if one.starts <= at), key=lambda one: one.starts)
    tamper = {leg.id: quantiles(leg.tamper_s)[1] for leg in legs}
    ended = [(one, end_s) for one in seen if (end_s := _end_s(one, clock)) is not None and end_s <= now_s]
    speed, timed_h = _speed(ended, tamper, rate, clock)
    done = dict.fromkeys(tamper, 0.0)
    for one, _ in ended:
        done[one.load] += one.area_m2
    open_parts = [one for one in seen if (end_s := _end_s(one, clock)) is None or end_s > now_s]
    for one in open_parts:
        part = rate.times(speed / len(open_parts)).done_m2(clock.seconds(one.starts), now_s, tamper[one.load])
        done[one.load] += min(part, MOST_OF_A_PART * one.area_m2)
    at_work = open_parts[-1].load if open_parts else None
    return Progress(done, at_work, bool(seen), speed, 60.0 * timed_h)


def left_to_do(legs: Sequence[Leg], progress: Progress, at_s: float) -> list[Leg]:
    """The race from here on: finished loads out, others less what is done, the one being worked first. What
    the crew is on is open, whatever was expected."""
    left = []
    for leg in legs:
        area_m2 = leg.area_m2 - progress.done_m2[leg.id]
        if area_m2 > _REST_M2:
            begun = progress.done_m2[leg.id] > 0.0
            opens = [min(opens, at_s) for opens in leg.opens_s] if begun else leg.opens_s
            left.append(replace(leg, area_m2=area_m2, opens_s=opens))
    return sorted(left, key=lambda leg: leg.id != progress.at_work)


def planned_m2(legs: Sequence[Leg], passages: Sequence[Passage], rate: CrewRate, at_s: float) -> float:
    """The area that would likely be done by a time [s], had all gone as planned [m2]."""
    by_member = []
    for k in range(len(passages[0].reached_s)):
        done = 0.0
        for leg, passage in zip(legs, passages, strict=True):
            if passage.reached_s[k] < at_s:
                part = rate.done_m2(passage.reached_s[k], at_s, leg.tamper_s[k])
                done += min(part, leg.area_m2)
        by_member.append(done)
    return quantiles(by_member)[1]


def _end_s(worked: Worked, clock: Clock) -> float | None:
    return None if worked.ends is None else clock.seconds(worked.ends)


def _speed(
    ended: Sequence[tuple[Worked, float]], tamper: Mapping[str, float], rate: CrewRate, clock: Clock
) -> tuple[float, float]:
    """The share of the told pace that was kept over the time worked, and that time [h]."""
    expected_h, spans = 0.0, []
    for one, end_s in ended:
        start_s = clock.seconds(one.starts)
        needs_s = rate.finish_s(start_s, one.area_m2, tamper[one.load]) - start_s
        if end_s - start_s >= _TIMED_SHARE * needs_s:
            expected_h += needs_s / 3600.0
            spans.append((start_s, end_s))
    timed_h = _covered_s(spans) / 3600.0
    speed = (expected_h + _PRIOR_H) / (timed_h + _PRIOR_H)
    return min(_FASTEST, max(_SLOWEST, speed)), timed_h


def _covered_s(spans: Sequence[tuple[float, float]]) -> float:
    """The time that spans cover [s], what two share counted once."""
    covered, until = 0.0, float("-inf")
    for start, end in sorted(spans):
        covered += max(0.0, end - max(start, until))
        until = max(until, end)
    return covered
