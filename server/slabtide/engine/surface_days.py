"""The bare surface hour by hour, past the end of the young concrete's own history."""

import math
from collections.abc import Sequence

from slabtide.engine.clocks import value_at
from slabtide.engine.column import Column, Stepper
from slabtide.engine.exchange import bare_exchange
from slabtide.engine.forcing import Forcing, forcing_between
from slabtide.engine.history import History

_STEP_S = 1800
_WARM_UP_S = 48 * 3600


def surface_by_hour(
    history: History, hours: Sequence[Forcing], column: Column, ground_temp_c: float
) -> list[float]:
    """The surface at each weather hour [°C]: the air before the load is placed, its history while that lasts,
    then a dry slab that gives off no more heat, run in for two days.

    Source: the heat balance of `history`, without hydration and water; backward Euler, half-hour steps.
    """
    first_s, last_s = history.times_s[0], history.times_s[-1]
    found = []
    for index, hour in enumerate(hours):
        seconds = index * 3600
        young = first_s <= seconds <= last_s
        found.append(value_at(history.times_s, history.surface_c, seconds) if young else hour.air_temp_c)
    past = math.floor(last_s / 3600) + 1
    if past < len(hours):
        found[past:] = _old_slab(history, hours, column, ground_temp_c)[past:]
    return found


def _old_slab(
    history: History, hours: Sequence[Forcing], column: Column, ground_temp_c: float
) -> list[float]:
    start = max(math.ceil(history.times_s[0] / 3600), (history.times_s[-1] - _WARM_UP_S) // 3600)
    warm_c = value_at(history.times_s, history.mean_c, start * 3600)
    slab, size = column.slab_nodes, len(column.capacity)
    temps = [warm_c] * slab + [ground_temp_c] * (size - slab)
    stepper = Stepper(column, _STEP_S, 1.0)
    found = [math.nan] * start + [warm_c]
    for index in range(start, len(hours) - 1):
        for part in range(3600 // _STEP_S):
            forcing = forcing_between(hours[index], hours[index + 1], (part + 1) * _STEP_S / 3600)
            right = [rate * temp for rate, temp in zip(stepper.rate, temps, strict=True)]
            expected = temps[0]
            for _ in range(3):  # the exchange made linear anew about what came out
                flux, slope, _demand = bare_exchange(forcing, expected, 0.0)
                solved = stepper.solve(right, ground_temp_c, flux + slope * expected, slope)
                expected = solved[0]
            temps = solved
        found.append(temps[0])
    return found
