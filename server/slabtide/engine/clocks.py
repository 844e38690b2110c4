"""Reading a history backwards: when did this load reach that?"""

import math
from bisect import bisect_left, bisect_right
from collections.abc import Sequence

from slabtide.engine.history import History

_TAIL_S = 24 * 3600
_FURTHEST_S = 60 * 86_400


def time_at(times_s: Sequence[int], series: Sequence[float], value: float) -> float:
    """Time [s] at which a series that never falls reaches a value; infinity if it doesn't.

    A value reached before the series begins comes out as its first time.

    >>> time_at([0, 10, 20], [1.0, 2.0, 4.0], 3.0)
    15.0
    """
    return times_at(times_s, series, (value,))[0]


def times_at(times_s: Sequence[int], series: Sequence[float], values: Sequence[float]) -> list[float]:
    """`time_at` for many values of one series.

    >>> times_at([0, 10, 20], [1.0, 2.0, 4.0], [3.0, 0.5, 9.0])
    [15.0, 0.0, inf]
    """
    first_s, count = float(times_s[0]), len(series)
    found = []
    for value in values:
        index = bisect_left(series, value)
        if index == 0:
            found.append(first_s)
        elif index == count:
            found.append(math.inf)
        else:
            before, before_s = series[index - 1], times_s[index - 1]
            share = (value - before) / (series[index] - before)
            found.append(before_s + share * (times_s[index] - before_s))
    return found


def value_at(times_s: Sequence[int], series: Sequence[float], time_s: float) -> float:
    """A series at a time, straight between its entries, level before and after.

    >>> value_at([0, 10], [1.0, 2.0], 5.0)
    1.5
    """
    index = bisect_right(times_s, time_s)
    if index == 0:
        return series[0]
    if index == len(times_s):
        return series[-1]
    share = (time_s - times_s[index - 1]) / (times_s[index] - times_s[index - 1])
    return series[index - 1] + share * (series[index] - series[index - 1])


def times_at_ages(history: History, ages_h: Sequence[float]) -> list[float]:
    """Times [s] at which the depth's mean comes to equivalent ages, past the history's end if need be.

    Past the end it goes on at the pace of the last day; infinity beyond sixty days.
    """
    times, ages = history.times_s, history.mean_age_h
    found = times_at(times, ages, ages_h)
    start = bisect_left(times, max(times[0], times[-1] - _TAIL_S))
    if times[-1] == times[start] or ages[-1] <= ages[start]:
        return found
    pace, last_h, last_s = (ages[-1] - ages[start]) / (times[-1] - times[start]), ages[-1], times[-1]
    for i, age_h in enumerate(ages_h):
        if age_h > last_h:
            span = (age_h - last_h) / pace
            found[i] = last_s + span if span <= _FURTHEST_S else math.inf
    return found


def first_time(times_s: Sequence[float], series: Sequence[float], limit: float) -> float:
    """Time [s] at which a series first rises to a limit; infinity if it doesn't.

    >>> first_time([0, 10, 20], [0.0, 0.5, 0.0], 0.25)
    5.0
    """
    for index, value in enumerate(series):
        if value >= limit:
            if index == 0:
                return float(times_s[0])
            share = (limit - series[index - 1]) / (value - series[index - 1])
            return times_s[index - 1] + share * (times_s[index] - times_s[index - 1])
    return math.inf


def dropped_at(
    times_s: Sequence[float], series: Sequence[float], fall: float, from_s: float, until_s: float
) -> float:
    """Time [s] at which a series has first fallen by so much from its highest since `from_s`, looked for
    until `until_s`; infinity if it hasn't.

    >>> dropped_at([0, 10, 20], [5.0, 9.0, 1.0], 4.0, 0.0, 100.0)
    20.0
    """
    peak = -math.inf
    for time, value in zip(times_s, series, strict=True):
        if time < from_s:
            continue
        if time > until_s:
            break
        peak = max(peak, value)
        if peak - value >= fall:
            return float(time)
    return math.inf
