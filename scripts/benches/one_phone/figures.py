"""A figure, what it should be, and whether it is."""

from dataclasses import dataclass


@dataclass(frozen=True)
class Figure:
    """One figure and what it should be at most; None where nothing is promised."""

    name: str
    value: float
    unit: str
    most: float | None = None

    @property
    def met(self) -> bool:
        """Whether it is no more than it should be."""
        return self.most is None or self.value <= self.most

    def __str__(self) -> str:
        verdict = (
            "" if self.most is None else f"   at most {self.most:,g}: {'met' if self.met else 'NOT MET'}"
        )
        return f"{self.name:<66}{self.value:>10,.1f} {self.unit}{verdict}"


def summary(figures: list[Figure]) -> str:
    """How many of the figures that are promised are met, and which are not."""
    promised = [figure for figure in figures if figure.most is not None]
    missed = [f"  not met: {figure.name}" for figure in promised if not figure.met]
    return "\n".join([f"{len(promised) - len(missed)} of {len(promised)} promised figures met", *missed])
