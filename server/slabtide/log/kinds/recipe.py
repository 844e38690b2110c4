"""What is in a mix: the rows of its admixtures, and the lists that the engine knows."""

from typing import get_args

from slabtide.engine.pour import AdmixtureType, AshClass, CementType, CoverKind
from slabtide.log.kinds.fields import Body, Measure, OneOf
from slabtide.log.kinds.shapes import Rows

CEMENTS: tuple[str, ...] = get_args(CementType)
ASHES: tuple[str, ...] = get_args(AshClass)
ADMIXTURES: tuple[str, ...] = get_args(AdmixtureType)
COVERS: tuple[str, ...] = get_args(CoverKind)
MOST_REPLACED = 0.85
"""Most of the binder that ash, slag and fume may make together, as the engine takes it."""


class AdmixtureDose(Body):
    type = OneOf(ADMIXTURES)
    dose = Measure(0, 2, hint="1 is the usual dose")


def admixtures() -> Rows:
    """Up to eight admixtures by their ASTM C494 type, each with its share of the usual dose."""
    return Rows(AdmixtureDose, "AdmixtureDose", 0, 8, optional=True)
