"""The first load of a pour as the heat balance takes it: laid at the middle of its placing."""

from collections.abc import Sequence
from datetime import timedelta

from slabtide.engine.covers import CoverSpan
from slabtide.engine.history import Birth
from slabtide.engine.pour import Pour


def born(pour: Pour, covers: Sequence[CoverSpan] = ()) -> Birth:
    """Worked out here from the input, and not by the engine's own hand."""
    load, first = pour.loads[0], pour.weather.hourly[0].at
    middle = load.placed_from + (load.placed_to - load.placed_from) / 2
    return Birth(
        start_s=round((middle - first).total_seconds()),
        since_batch_h=(middle - load.batched_at) / timedelta(hours=1),
        concrete_temp_c=load.concrete_temp_c,
        ground_temp_c=pour.slab.ground_temp_c,
        thickness_m=pour.slab.thickness_m,
        covers=tuple(covers),
    )
