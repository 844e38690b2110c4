"""Wash, second colour, sealer before they are done: what the product asks for, slots kept, dry tests."""

from datetime import datetime
from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, OFFICE, AddTo, Kind, SetKey
from slabtide.log.kinds.fields import Body, Count, Flag, Instant, Measure, OneOf, Text, ident
from slabtide.log.kinds.shapes import Spot

WORKS = ("wash", "colour", "seal")


class ProductChosen(Body):
    work = OneOf(WORKS)
    name = Text(80, optional=True)
    low_c = Measure(-10, 60, "°C", optional=True)
    high_c = Measure(-10, 60, "°C", optional=True)
    over_dew_k = Measure(0, 15, "K", optional=True)
    dry_before_h = Measure(0, 96, "h", optional=True)
    dry_after_h = Measure(0, 96, "h", optional=True)
    wind_most_kmh = Measure(0, 80, "km/h", optional=True)
    least_age_h = Measure(0, 2000, "h", optional=True)
    recoat_least_h = Measure(0, 240, "h", optional=True)
    recoat_most_h = Measure(0, 720, "h", optional=True)
    coats = Count(1, 4, optional=True)
    coverage_m2_per_l = Measure(0.5, 30, "m²/l", optional=True)

    @validates_schema(skip_on_field_errors=True)
    def limits_stand_in_order(self, data: dict[str, Any], **kwargs: Any) -> None:
        for low, high in (("low_c", "high_c"), ("recoat_least_h", "recoat_most_h")):
            least, most = data.get(low), data.get(high)
            if least is not None and most is not None and most < least:
                raise ValidationError("The most is below the least. Swap them.", high)


class SheetTested(Body):
    laid_at = Instant()
    dry = Flag()
    bay = ident("BayId", optional=True)
    spot = Spot(optional=True)
    note = Text(500, optional=True)


class SlotKept(Body):
    work = OneOf(WORKS)
    coat = Count(1, 4)

    class Meta:
        # "from" is a Python word
        include = {"from": Instant(), "to": Instant()}  # noqa: RUF012

    @validates_schema(skip_on_field_errors=True)
    def ends_after_it_starts(self, data: dict[str, Any], **kwargs: Any) -> None:
        if datetime.fromisoformat(data["to"]) <= datetime.fromisoformat(data["from"]):
            raise ValidationError("The time ends before it starts. Check both times.", "to")

    @validates_schema(skip_on_field_errors=True)
    def only_sealer_has_more_coats(self, data: dict[str, Any], **kwargs: Any) -> None:
        if data["work"] != "seal" and data["coat"] != 1:
            raise ValidationError("Only sealer goes on in several coats. Enter 1.", "coat")


COATING_KINDS = (
    Kind("product.chosen", ProductChosen, (FOREMAN, OFFICE), SetKey("products/{work}")),
    Kind("sheet.tested", SheetTested, (CREW, FOREMAN), AddTo("sheet_tests")),
    Kind("slot.kept", SlotKept, (FOREMAN, OFFICE), SetKey("slots/{work}/{coat}")),
)
