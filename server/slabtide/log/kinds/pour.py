"""Pour day: loads, what is done to each bay, what the surface says."""

from datetime import datetime
from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, AddTo, Kind, SetKey
from slabtide.log.kinds.fields import Body, Count, Instant, Measure, OneOf, Text, ident
from slabtide.log.kinds.recipe import admixtures
from slabtide.log.kinds.shapes import Spot

STEPS = ("strike_off", "bull_float", "edge", "mag", "release", "texture", "touch_up")
MARKS = ("start", "end")
CHECKS = ("footprint", "thumb", "mat_clean", "mat_sticks", "mat_refused")


class LoadTicketed(Body):
    load = ident("LoadId")  # type: ignore[assignment]  # a field, not the method
    number = Count(1, 40)
    ticket = Text(40, optional=True)
    batched_at = Instant()
    volume_m3 = Measure(0.1, 15, "m³")
    slump_mm = Measure(0, 300, "mm", optional=True)
    concrete_temp_c = Measure(2, 45, "°C", optional=True)
    water_added_l = Measure(0, 400, "l", optional=True)
    colour_bags = Measure(0, 200, "bags", optional=True)
    admixtures = admixtures()
    water_allowed_l = Measure(0, 400, "l", optional=True)
    plant = Text(80, optional=True)


class LoadPlaced(Body):
    load = ident("LoadId")  # type: ignore[assignment]  # a field, not the method
    # "from" is a Python word, so the fields are declared through `Meta.include`
    area_m2 = Measure(0.1, 5000, "m²", optional=True)

    class Meta:
        include = {"from": Instant(), "to": Instant()}  # noqa: RUF012

    @validates_schema(skip_on_field_errors=True)
    def ends_after_it_starts(self, data: dict[str, Any], **kwargs: Any) -> None:
        if datetime.fromisoformat(data["to"]) < datetime.fromisoformat(data["from"]):
            raise ValidationError("Placing ends before it starts. Check both times.", "to")


class BayWorked(Body):
    bay = ident("BayId")
    step = OneOf(STEPS)
    mark = OneOf(MARKS)
    note = Text(500, optional=True)


class CheckMade(Body):
    load = ident("LoadId")  # type: ignore[assignment]  # a field, not the method
    bay = ident("BayId", optional=True)
    kind = OneOf(CHECKS)
    depth_mm = Measure(0, 60, "mm", optional=True)
    spot = Spot(optional=True)

    @validates_schema(skip_on_field_errors=True)
    def footprint_has_a_depth(self, data: dict[str, Any], **kwargs: Any) -> None:
        if data["kind"] == "footprint" and data.get("depth_mm") is None:
            raise ValidationError("A footprint needs its depth in mm. Enter 0 for no mark.", "depth_mm")


POUR_KINDS = (
    Kind("load.ticketed", LoadTicketed, (CREW, FOREMAN), SetKey("loads/{load}/ticket")),
    Kind("load.placed", LoadPlaced, (CREW, FOREMAN), SetKey("loads/{load}/placed")),
    Kind("bay.worked", BayWorked, (CREW, FOREMAN), SetKey("bays/{bay}/{step}/{mark}")),
    Kind("check.made", CheckMade, (CREW, FOREMAN), AddTo("checks")),
)
