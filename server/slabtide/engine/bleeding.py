"""Bleed water: how it rises, and when the sheen is gone."""

from dataclasses import dataclass

_RATE_KG_M2_H = 0.5  # 0.1 lb/ft2/h, the low end for water-reduced, air-entrained flatwork (EST)
_CAPACITY_SHARE = 0.006  # of the slab's depth, as water (EST; 0.005 to 0.02 is told)
REABSORBED_SHARE = 0.45  # of the way to initial set: what still stands is drawn back in by then (EST)
DRYING_FOLD_H = 3.0  # after the sheen the surface's own loss fades with this e-fold (EST)


def bleed_capacity_kg_m2(thickness_m: float) -> float:
    """All the water that will rise [kg/m2] in a slab this thick [m] (EST, 0.6 % of the depth).

    >>> round(bleed_capacity_kg_m2(0.1), 2)
    0.6
    """
    return _CAPACITY_SHARE * thickness_m * 1000.0


def fume_bleed_share(silica_fume_fraction: float) -> float:
    """Share of the usual bleeding that silica fume leaves; at 15 % hardly any (EST).

    >>> round(fume_bleed_share(0.05), 2)
    0.7
    """
    return max(0.1, 1.0 - 6.0 * silica_fume_fraction)


@dataclass(slots=True)
class Film:
    """The water standing on one surface. Rises at a level rate (a share of the usual) until the capacity is
    spent."""

    capacity_kg_m2: float
    share: float = 1.0
    risen_kg_m2: float = 0.0
    standing_kg_m2: float = 0.0
    dry_at_s: float | None = None

    def pass_time(self, now_s: float, span_s: float, loss_kg_m2_h: float) -> None:
        """Let a span end at `now_s`; note when evaporation has caught up with what rose."""
        if self.dry_at_s is not None:
            return
        span_h = span_s / 3600.0
        rise = min(self.share * _RATE_KG_M2_H * span_h, self.capacity_kg_m2 - self.risen_kg_m2)
        left = self.standing_kg_m2 + rise - loss_kg_m2_h * span_h
        if left <= 0.0:
            gone = self.standing_kg_m2 / (self.standing_kg_m2 - left) if self.standing_kg_m2 > 0.0 else 0.0
            self.dry_at_s = now_s - span_s * (1.0 - gone)
        self.risen_kg_m2 += rise
        self.standing_kg_m2 = max(left, 0.0)


def outruns_bleeding(loss_kg_m2_h: float, share: float = 1.0) -> bool:
    """Whether a surface loses water faster than it rises (a share of the usual), so that it crusts with no
    sheen to see."""
    return loss_kg_m2_h > share * _RATE_KG_M2_H
