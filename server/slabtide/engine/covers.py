"""What lies on the slab and when: blankets, wet covers, sheets."""

from collections.abc import Sequence
from dataclasses import dataclass
from datetime import UTC, datetime

from slabtide.engine.pour import Cover, CoverKind

# Thermal resistance where the input is silent [m2·K/W] (EST): a curing blanket (R 3 ft2·°F·h/Btu as sold),
# wet burlap or felt, a plastic sheet with the air caught under it.
DEFAULT_R_M2K_W: dict[CoverKind, float] = {"blanket": 0.5, "wet": 0.02, "sheet": 0.02}


@dataclass(frozen=True, slots=True)
class CoverSpan:
    """A cover over one load: seconds from the first weather hour, kind, thermal resistance [m2·K/W]."""

    starts_s: int
    ends_s: int
    kind: CoverKind
    r_m2k_w: float


def spans_of(covers: Sequence[Cover], load: str, anchor: datetime) -> tuple[CoverSpan, ...]:
    """The covers of one load in time; the anchor is the first weather hour."""
    start = anchor.astimezone(UTC)
    return tuple(
        CoverSpan(
            round((cover.starts.astimezone(UTC) - start).total_seconds()),
            round((cover.ends.astimezone(UTC) - start).total_seconds()),
            cover.kind,
            cover.r_m2k_w,
        )
        for cover in covers
        if cover.load in (None, load)
    )


def cover_at(spans: Sequence[CoverSpan], time_s: float) -> CoverSpan | None:
    """What lies on the slab at a time: layers add their resistance, and count as wet only if all are.

    A sheet or blanket over wet burlap keeps its water in.
    """
    lying = [span for span in spans if span.starts_s <= time_s < span.ends_s]
    if len(lying) < 2:
        return lying[0] if lying else None
    dry: list[CoverKind] = [span.kind for span in lying if span.kind != "wet"]
    return CoverSpan(
        max(span.starts_s for span in lying),
        min(span.ends_s for span in lying),
        dry[0] if dry else "wet",
        sum(span.r_m2k_w for span in lying),
    )


def cover_over(spans: Sequence[CoverSpan], from_s: float, to_s: float) -> tuple[CoverSpan, float] | None:
    """What lies on the slab from one time to another, and for what share [0..1] of it; None if nothing."""
    touching = [span for span in spans if span.starts_s < to_s and span.ends_s > from_s]
    if not touching:
        return None
    start = max(from_s, min(span.starts_s for span in touching))
    end = min(to_s, max(span.ends_s for span in touching))
    cover = cover_at(touching, (start + end) / 2.0) or touching[0]
    return cover, (end - start) / (to_s - from_s)
