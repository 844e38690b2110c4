"""When to saw by the handbooks, drawn beside our own window."""

import math
from dataclasses import dataclass
from datetime import UTC, timedelta

from slabtide.engine.clocks import dropped_at
from slabtide.engine.history import History
from slabtide.engine.pour import Load, Pour, SawKind

SURFACE_DROP_K = 8.3  # 15 °F under its peak (after Okamoto et al., FHWA-RD-91-079; from memory, not verified)
_WATCH_DROP_S = 36 * 3600
_HOT_C, _COLD_C = 32.2, 4.4  # where hot and cold weather end in practice: 90 and 40 °F (EST)
_MILD_C = 20.0
_AIR_OF = timedelta(hours=12)
# Hours after finishing, in hot and in cold weather: ACI 302.1R-15; early-entry also ACI 224.4R-13.
_OPENS_H: dict[SawKind, tuple[float, float]] = {"conventional": (4.0, 12.0), "early-entry": (1.0, 4.0)}
# Hours after placing, in mild and in cold weather: 18 h is CSA A23.1 and PCA, three days in cold is
# Concrete Construction's; early-entry half of that (EST).
_CLOSES_H: dict[SawKind, tuple[float, float]] = {"conventional": (18.0, 72.0), "early-entry": (9.0, 36.0)}
SOURCES: dict[SawKind, str] = {
    "conventional": "ACI 302.1R-15, 4 to 12 h after finishing; CSA A23.1, 18 h in mild weather",
    "early-entry": "ACI 302.1R-15 and 224.4R-13, 1 to 4 h after finishing; done in half the usual time (EST)",
}
DROP_SOURCE = "the surface 15 °F (8 °C) under its peak (FHWA-RD-91-079)"


@dataclass(frozen=True, slots=True)
class PracticeSpan:
    """When practice opens and closes the saw [s], when the surface has dropped [s] or None, and who says."""

    opens_s: float
    closes_s: float
    drop_s: float | None
    source: str


def drops_at(history: History, from_s: float) -> float:
    """Time [s] at which the surface has fallen 8.3 K (15 °F) from its peak after `from_s`, in 36 h; or
    infinity."""
    return dropped_at(history.times_s, history.surface_c, SURFACE_DROP_K, from_s, from_s + _WATCH_DROP_S)


def load_practice(pour: Pour, load: Load, finished_s: float, drop_s: float) -> PracticeSpan:
    """The handbooks' window of one load whose finishing ends and whose surface drops at those times [s]."""
    hourly = pour.weather.hourly
    struck_off = load.placed_to.astimezone(UTC)
    placed_s = (struck_off - hourly[0].at.astimezone(UTC)).total_seconds()
    first = [h.air_temp_c for h in hourly if timedelta(0) <= h.at - struck_off <= _AIR_OF] or [
        hourly[-1].air_temp_c
    ]
    kind: SawKind = pour.saw.kind if pour.saw else "conventional"
    return practice_span(kind, placed_s, max(placed_s, finished_s), sum(first) / len(first), drop_s)


def practice_span(
    kind: SawKind, placed_s: float, finished_s: float, air_temp_c: float, drop_s: float
) -> PracticeSpan:
    """The handbooks' window of one load.

    placed_s, finished_s -- when it was struck off and when its finishing ends
    air_temp_c -- mean air of the first twelve hours [°C]
    drop_s -- when its surface has dropped, infinity if it doesn't

    Source: see the tables above; between hot and cold in a straight line, lateness by its logarithm (EST).

    >>> span = practice_span("conventional", 0.0, 3 * 3600.0, 32.2, math.inf)
    >>> span.opens_s / 3600, span.closes_s / 3600
    (7.0, 18.0)
    """
    hot, cold = _OPENS_H[kind]
    opens_s = finished_s + 3600.0 * (hot + (cold - hot) * _share(air_temp_c, _HOT_C))
    mild, latest = _CLOSES_H[kind]
    by_clock_s = placed_s + 3600.0 * mild * math.pow(latest / mild, _share(air_temp_c, _MILD_C))
    closes_s = max(opens_s, min(by_clock_s, drop_s))
    source = SOURCES[kind] if by_clock_s <= drop_s else f"{SOURCES[kind]}; {DROP_SOURCE}"
    return PracticeSpan(opens_s, closes_s, None if math.isinf(drop_s) else drop_s, source)


def _share(air_temp_c: float, warm_c: float) -> float:
    """How far the air is from warm towards cold [0..1]."""
    return min(1.0, max(0.0, (warm_c - air_temp_c) / (warm_c - _COLD_C)))
