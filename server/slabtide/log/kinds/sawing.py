"""Cuts before they are made: where they go and in which order, and the short one that tells if it is time."""

from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, AddTo, Kind, SetKey
from slabtide.log.kinds.fields import Body, Count, OneOf, ident
from slabtide.log.kinds.job import SAWS
from slabtide.log.kinds.shapes import Spot

RESULTS = ("clean", "slight", "ravels")


class CutPlanned(Body):
    cut = ident("CutId")
    order = Count(0, 1000)
    load = ident("LoadId", optional=True)  # type: ignore[assignment]  # a field, not the method

    class Meta:
        # "from" is a Python word
        include = {"from": Spot(), "to": Spot()}  # noqa: RUF012

    @validates_schema(skip_on_field_errors=True)
    def has_a_length(self, data: dict[str, Any], **kwargs: Any) -> None:
        if data["from"] == data["to"]:
            raise ValidationError("The cut ends where it starts. Move one end.", "to")


class CutTested(Body):
    result = OneOf(RESULTS)
    saw = OneOf(SAWS)
    load = ident("LoadId", optional=True)  # type: ignore[assignment]  # a field, not the method
    bay = ident("BayId", optional=True)
    spot = Spot(optional=True)


SAWING_KINDS = (
    Kind("cut.planned", CutPlanned, (CREW, FOREMAN), SetKey("planned_cuts/{cut}")),
    Kind("cut.tested", CutTested, (CREW, FOREMAN), AddTo("test_cuts")),
)
