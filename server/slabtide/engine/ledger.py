"""The heat that passed through one column, booked by the same rule as the steps that moved it."""

from dataclasses import dataclass


@dataclass(slots=True)
class _Account:
    """One flux summed over time [J/m2] by the steps' own second-order rule, and its gross turnover."""

    total_j_m2: float = 0.0
    gross_j_m2: float = 0.0
    last_j_m2: float = 0.0

    def book(self, flux_w_m2: float, span_s: float, weight: float, of_last: float) -> None:
        """A flux at the step's end, over the step."""
        self.last_j_m2 = (flux_w_m2 * span_s + of_last * self.last_j_m2) / weight
        self.total_j_m2 += self.last_j_m2
        self.gross_j_m2 += abs(flux_w_m2) * span_s


class Ledger:
    """Heat into the column by surface and foot, what hydration gave, and what it holds more [J/m2]."""

    def __init__(self) -> None:
        self.surface, self.ground = _Account(), _Account()
        self.hydration_j_m2 = 0.0
        self.stored_j_m2 = 0.0

    @property
    def gap_j_m2(self) -> float:
        """What came in and is not there."""
        came = self.surface.total_j_m2 + self.ground.total_j_m2 + self.hydration_j_m2
        return came - self.stored_j_m2

    @property
    def turnover_j_m2(self) -> float:
        """All heat that moved, whichever way."""
        return self.surface.gross_j_m2 + self.ground.gross_j_m2 + self.hydration_j_m2
