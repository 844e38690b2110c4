"""What the owner's care card counts with: as the job's people set it, else common practice (no source).

The label of the sealer that was used, local codes and the company's own experience go before every one.
"""

from dataclasses import dataclass, replace

from slabtide.log.model import JobView


@dataclass(frozen=True, slots=True)
class CareSettings:
    """Waiting times after placing (h), after a coat of sealer (h, days), months between looks and resealing.

    `own`: the names of those that were set for this job; the others are common practice.
    """

    walk_h: float = 24
    furniture_h: float = 7 * 24
    drive_h: float = 10 * 24
    heavy_h: float = 28 * 24
    sealer_walk_h: int = 24
    sealer_drive_h: int = 72
    wash_days: float = 7
    look_each_months: int = 12
    reseal_months: tuple[float, float] = (24, 36)
    own: frozenset[str] = frozenset()


CARE = CareSettings()


def care_for(view: JobView) -> CareSettings:
    """The settings of a job. What carries more waits at least as long as what carries less."""
    said = view.care
    if said is None:
        return CARE
    names = ("walk_h", "drive_h", "wash_days", "reseal_months")
    found = {name: value for name in names if (value := getattr(said, name)) is not None}
    own = frozenset(found)
    if "reseal_months" in found:
        found["reseal_months"] = (found["reseal_months"], found["reseal_months"])
    care = replace(CARE, own=own, **found)
    furniture_h = max(care.furniture_h, care.walk_h)
    drive_h = care.drive_h if "drive_h" in own else max(care.drive_h, furniture_h)
    return replace(care, furniture_h=furniture_h, drive_h=drive_h, heavy_h=max(care.heavy_h, drive_h))
