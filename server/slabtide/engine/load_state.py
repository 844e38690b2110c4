"""One load in all the ways it may go: its histories, its set factor, and how the two act on each other."""

import math
from collections.abc import Sequence
from dataclasses import dataclass, field
from typing import Literal

from slabtide.engine.clocks import time_at, value_at
from slabtide.engine.ensemble import LIKELY, SISTERS_TOGETHER, Member
from slabtide.engine.history import History
from slabtide.engine.pour import Load, Pour

Span = tuple[float, float]  # opens and closes [s]; infinity = not within reach
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

    @property
    def likely(self) -> History:
        """The history in the middle branch of the weather."""
        return self.histories[LIKELY]

    def factor_at(self, z: float) -> float:
        """The set factor `z` standard deviations up, whatever the weather."""
        return self.set_factor * math.exp(self.set_factor_sd * z)

    def factor_in(self, weather_z: float, set_z: float) -> float:
        """The set factor in some weather, as standard deviations of either."""
        own_sd = math.sqrt(max(0.0, self.set_factor_sd**2 - self.per_weather**2))
        return self.set_factor * math.exp(self.per_weather * weather_z + own_sd * set_z)

    def factor_of(self, member: Member) -> float:
        """A member's set factor."""
        return self.factor_in(member.weather_z, member.set_z)

    def reached_s(self, clock: ClockName, age_h: float, member: Member) -> float:
        """When a clock comes to an age [h] in a member's weather [s]; infinity if it doesn't."""
        middle, far = self.histories[LIKELY], self.histories[member.far]
        return member.between(
            time_at(middle.times_s, getattr(middle, clock), age_h),
            time_at(far.times_s, getattr(far, clock), age_h),
        )

    def needed_h(self, clock: ClockName, age_h: float, factor: float) -> float:
        """The age to wait for on a history of the mix, so as to tell of a load with another set factor.

        A slower load also gives its heat later and so runs cooler: its clock is stretched by more than the
        factor, a quicker one's shortened by more. The slow history tells by how much, as a power of the
        factor at this age, one for slower loads and one for quicker.

        age_h -- equivalent age that is asked for, at a set factor of 1 [h]
        """
        own = self.pour.mix.set_factor
        return own * age_h * math.pow(factor / own, self._power(clock, age_h, factor > own))

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
