"""What one pour told of its mix, read from its last times."""

import math
from collections.abc import Mapping
from typing import Any

from slabtide.engine.prior import PourResult
from slabtide.log.model import JobView

_Z_10 = 1.2815515655446004
_LEARNED_BELOW = 0.97  # of the sd it began with: above it the checks told next to nothing (EST)


def told_by(
    view: JobView, timeline: Mapping[str, Any] | None, began: tuple[float, float] | None
) -> PourResult | None:
    """The pour as one result, or None where no check told anything.

    Of the loads that were checked themselves. They share the day, so that their doubt is not divided by their
    number: nothing is counted twice.
    """
    if timeline is None or began is None or not began[1] > 0.0:
        return None
    checked = {check.load for check in view.checks}
    loads = [_of_load(load["learned"]) for load in timeline["loads"] if load["id"] in checked]
    sound = [one for one in loads if one is not None and one[1] < _LEARNED_BELOW * began[1]]
    if not sound:
        return None
    weights = [1.0 / sd**2 for _, sd in sound]
    mean = sum(w * mean for w, (mean, _) in zip(weights, sound, strict=True)) / sum(weights)
    return PourResult(mean, math.sqrt(len(sound) / sum(weights)), began)


def _of_load(learned: Mapping[str, Any] | None) -> tuple[float, float] | None:
    """Mean and sd of the logarithm; None where no check was seen."""
    if not learned or not learned["from_checks"]:
        return None
    band = learned["set_factor"]
    return math.log(band["likely"]), math.log(band["late"] / band["early"]) / (2.0 * _Z_10)
