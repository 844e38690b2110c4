"""The saw's limits in our own models: strong enough not to ravel, cut before the slab cracks by itself."""

from slabtide.engine.pour import Aggregate, SawKind

# Compressive strength at which a conventional cut stays clean [MPa]. Okamoto et al., FHWA-RD-91-079 (1994),
# ranked by aggregate; the range 1.4 to 7 MPa is from memory, not verified, and these are settings (EST).
_RAVELLING_MPA: dict[Aggregate, float] = {
    "soft-rounded": 1.4,
    "rounded": 2.4,
    "crushed-soft": 3.4,
    "crushed-hard": 5.2,
}
_EARLY_ENTRY_SHARE = 0.5  # a blade with a shoe at the surface: 150 to 400 psi (EST)
STRESS_SHARE = 0.65  # cut before tension reaches this share of strength (EST, 0.6 to 0.7)
STRESS_SHARE_SD = 0.15  # sd of the logarithm of the share at which a slab really cracks (EST)
# Practice: 4 h in hot weather to 3 days in cold, 6 to 18 h as a rule; as equivalent age at 23 °C (EST).
_LEAST_SPAN = 1.5
_LATEST_H: dict[SawKind, float] = {"conventional": 24.0, "early-entry": 16.0}


def ravelling_limit_mpa(aggregate: Aggregate, kind: SawKind) -> float:
    """Compressive strength [MPa] from which a saw cuts without tearing out stone.

    Source: after Okamoto et al. (1994), as settings; see the table above.

    >>> ravelling_limit_mpa("rounded", "conventional")
    2.4
    """
    limit = _RAVELLING_MPA[aggregate]
    return limit if kind == "conventional" else max(1.0, limit * _EARLY_ENTRY_SHARE)


def latest_cut_h(kind: SawKind, opens_h: float) -> float:
    """Equivalent age at 23 °C [h] past which no model is trusted to say that a cut still helps (EST).

    opens_h -- equivalent age at which the saw may start; a weak mix gets half as long again as that at least

    >>> latest_cut_h("conventional", 9.0)
    24.0
    """
    return max(_LATEST_H[kind], _LEAST_SPAN * opens_h)
