"""What the owner's care card counts with. Common practice, no source; settings of the company.

The label of the sealer that was used, local codes and the company's own experience go before every one.
"""

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class CareSettings:
    """Waiting times after placing (days), after a coat of sealer (hours), and how often to look or reseal."""

    walk_after_days: int = 1
    furniture_after_days: int = 7
    drive_after_days: int = 10
    heavy_after_days: int = 28
    sealer_walk_h: int = 24
    sealer_drive_h: int = 72
    wash_after_sealer_days: int = 7
    look_each_months: int = 12
    reseal_each_years_low: int = 2
    reseal_each_years_high: int = 3


CARE = CareSettings()
