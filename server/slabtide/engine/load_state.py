"""One load in all the ways it may go: its histories, its set factor, and how the two act on each other."""

import math
from bisect import bisect_left
from collections.abc import Callable, Sequence
from dataclasses import dataclass, field
from typing import TYPE_CHECKING, Literal, TypeVar

from slabtide.engine.clocks import time_at, times_at, value_at
from slabtide.engine.ensemble import BRANCHES, LIKELY, MEMBERS, SISTERS_TOGETHER, between
from slabtide.engine.history import History
from slabtide.engine.pour import Load, Pour

if TYPE_CHECKING:
    from slabtide.engine.timeline import WindowName
    from slabtide.engine.windows import Work

Span = tuple[float, float]  # opens and closes [s]; infinity = not within reach
Asked = TypeVar("Asked")
ClockName = Literal["surface_age_h", "top_age_h", "mean_age_h"]

OPEN_READING_SD = 0.08  # of log age, of firm enough (EST)
SLOW_Z = 1.28  # how far up the set factor the slow history stands
_POWER_LIMITS = (1.0, 2.0)


def slow_ratio(set_factor_sd: float) -> float:
    """How much slower than the mix the slow history sets."""
    return math.exp(SLOW_Z * set_factor_sd)


@dataclass(slots=True)
class LoadState:
    """What the windows of one load rest on.

    `histories` stand in the order of the weather branches, at the set factor of the mix; `slow` is the middle
    branch with the mix slower by `ratio`. `set_factor` and its sd are what the checks made of the mix's own;
    `per_weather` is what its logarithm is more by per standard deviation of warmer weather, `together` its
    correlation with the first load's.
    `placed`: it lies there already, so that no weather can take its windows any more.
    `powers` and `works` are what was worked out of it so far; a state with anything replaced begins its
    `works` anew.
    """

    pour: Pour
    load: Load
    placed_to_s: float
    histories: Sequence[History]
    slow: History
    ratio: float
    set_factor: float
    set_factor_sd: float
    placed: bool = False
    per_weather: float = 0.0
    together: float = SISTERS_TOGETHER
    powers: dict[tuple[ClockName, float, bool], float] = field(default_factory=dict)
    works: "dict[WindowName, Work]" = field(init=False, default_factory=dict)

    @property
    def likely(self) -> History:
        """The history in the middle branch of the weather."""
        return self.histories[LIKELY]

    def factor_at(self, z: float) -> float:
        """The set factor `z` standard deviations up, whatever the weather."""
        return self.set_factor * math.exp(self.set_factor_sd * z)

    def factor_in(self, weather_z: float, set_z: float) -> float:
        """The set factor in some weather, as standard deviations of either."""
        return self.set_factor * math.exp(self.per_weather * weather_z + self._own_sd() * set_z)

    def factors(self) -> list[float]:
        """Every member's set factor."""
        own_sd = self._own_sd()
        middle, per_weather, exp = self.set_factor, self.per_weather, math.exp
        return [middle * exp(per_weather * member.weather_z + own_sd * member.set_z) for member in MEMBERS]

    def _own_sd(self) -> float:
        """Of the logarithm of the set factor, what does not go with the weather."""
        return math.sqrt(max(0.0, self.set_factor_sd**2 - self.per_weather**2))

    def reached_s(self, clock: ClockName, ages_h: Sequence[float]) -> list[float]:
        """Per member when a clock comes to its age [h] in its weather [s]; infinity if it doesn't."""
        return self.in_weather(
            lambda history, ages: times_at(history.times_s, getattr(history, clock), ages), ages_h
        )

    def firm_s(self, clock: ClockName, age_h: float, factors: Sequence[float]) -> list[float]:
        """Per member when a clock comes to an age [h], as far as anyone tells that it is firm enough [s]."""
        needed = zip(MEMBERS, self.needed_h(clock, age_h, factors), strict=True)
        return self.reached_s(
            clock, [wait_h * math.exp(OPEN_READING_SD * member.open_z) for member, wait_h in needed]
        )

    def in_weather(
        self, read: Callable[[History, Sequence[Asked]], list[float]], asked: Sequence[Asked]
    ) -> list[float]:
        """Per member a time [s] at its weather, read in the middle branch and in the one its weather is on
        the way to.

        read -- the times in one branch for what some members ask
        asked -- what each member asks
        """
        cooler = bisect_left(MEMBERS, BRANCHES[LIKELY], key=lambda member: member.weather_z)
        cool, middle, warm = self.histories
        far = read(cool, asked[:cooler]) + read(warm, asked[cooler:])
        return between(read(middle, asked), far)

    def needed_h(self, clock: ClockName, age_h: float, factors: Sequence[float]) -> list[float]:
        """The ages to wait for on a history of the mix, so as to tell of loads with other set factors.

        A slower load also gives its heat later and so runs cooler: its clock is stretched by more than the
        factor, a quicker one's shortened by more. The slow history tells by how much, as a power of the
        factor at this age, one for slower loads and one for quicker.

        age_h -- equivalent age that is asked for, at a set factor of 1 [h]
        """
        own, power = self.pour.mix.set_factor, math.pow
        usual_h = own * age_h
        slower = self._power(clock, age_h, True) if max(factors) > own else 1.0
        quicker = self._power(clock, age_h, False) if min(factors) <= own else 1.0
        return [usual_h * power(factor / own, slower if factor > own else quicker) for factor in factors]

    def factor_needing(self, clock: ClockName, age_h: float, reached_h: float) -> float:
        """The set factor that needs just the age reached on a history of the mix; `needed_h` backwards."""
        own = self.pour.mix.set_factor
        stretched = max(reached_h, 0.0) / (own * age_h)
        return own * math.pow(stretched, 1.0 / self._power(clock, age_h, stretched > 1.0))

    def _power(self, clock: ClockName, age_h: float, slower: bool) -> float:
        key = (clock, age_h, slower)
        if key not in self.powers:
            self.powers[key] = self._worked_out(clock, age_h * self.pour.mix.set_factor, slower)
        return self.powers[key]

    def _worked_out(self, clock: ClockName, age_h: float, slower: bool) -> float:
        """One more than the logarithm by which the mix is ahead of the slow history, per logarithm of the
        factor between the two: when the slow one gets there; for quicker loads when the mix itself does."""
        likely, slow = getattr(self.likely, clock), getattr(self.slow, clock)
        if self.ratio < 1.001 or age_h <= slow[0]:
            return 1.0
        if slower:
            time = time_at(self.slow.times_s, slow, age_h * self.ratio)
        else:
            time = time_at(self.likely.times_s, likely, age_h)
        if math.isinf(time):
            return 1.0
        ahead = value_at(self.likely.times_s, likely, time) / value_at(self.slow.times_s, slow, time)
        low, high = _POWER_LIMITS
        return min(high, max(low, 1.0 + math.log(ahead) / math.log(self.ratio)))
