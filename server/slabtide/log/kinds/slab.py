"""The slab before it is poured: outline, mix, order, bays."""

from typing import Any

from marshmallow import ValidationError, validates_schema

from slabtide.log.kinds.declare import CREW, FOREMAN, OFFICE, Kind, SetKey
from slabtide.log.kinds.fields import Body, Count, Flag, Instant, Measure, OneOf, Text, ident
from slabtide.log.kinds.recipe import ASHES, CEMENTS, MOST_REPLACED, admixtures
from slabtide.log.kinds.shapes import Corners, Rows

AGGREGATES = ("soft-rounded", "rounded", "crushed-soft", "crushed-hard")


class AbuttingEdge(Body):
    edge = Count(0, 119)
    against = Text(80)
    bonded = Flag(optional=True)


class SlabOutlined(Body):
    corners = Corners()
    thickness_m = Measure(0.05, 0.6, "m")
    insulation_r_m2k_w = Measure(0, 6, "m²K/W")
    ground_temp_c = Measure(-10, 40, "°C")
    solar_absorptivity = Measure(0.2, 0.98)
    abutting = Rows(AbuttingEdge, "AbuttingEdge", 0, 120)
    uncut_length_m = Measure(0, 200, "m", optional=True)
    shade = Measure(0, 1, hint="the share of sun kept off; 0.5 is half", optional=True)
    base_friction = Measure(0.1, 5, optional=True)

    @validates_schema(skip_on_field_errors=True)
    def abutting_edges_exist_once(self, data: dict[str, Any], **kwargs: Any) -> None:
        edges = [row["edge"] for row in data["abutting"]]
        sides = len(data["corners"])
        for edge in edges:
            if edge >= sides:
                raise ValidationError(f"Side {edge} is not there: the outline has {sides} sides.", "abutting")
            if edges.count(edge) > 1:
                raise ValidationError(f"Side {edge} is listed twice. Keep one row.", "abutting")


class MixChosen(Body):
    name = Text(80)
    cement_kg_m3 = Measure(200, 600, "kg/m³")
    w_cm = Measure(0.3, 0.7)
    design_strength_mpa = Measure(15, 60, "MPa")
    aggregate = OneOf(AGGREGATES)
    set_factor = Measure(0.4, 2.5, optional=True)
    set_factor_sd = Measure(0.01, 1, optional=True)
    colour = Text(80, optional=True)
    note = Text(500, optional=True)
    plant = Text(80, optional=True)
    cement_type = OneOf(CEMENTS, optional=True)
    fly_ash_fraction = Measure(0, 0.6, hint="0.2 is 20 % of the binder", optional=True)
    fly_ash_class = OneOf(ASHES, optional=True)
    slag_fraction = Measure(0, 0.7, hint="0.3 is 30 % of the binder", optional=True)
    silica_fume_fraction = Measure(0, 0.15, hint="0.05 is 5 % of the binder", optional=True)
    admixtures = admixtures()
    slump_allowance_mm = Measure(0, 150, "mm", optional=True)
    drum_limit_min = Measure(20, 240, "min", optional=True)

    @validates_schema(skip_on_field_errors=True)
    def cement_is_left(self, data: dict[str, Any], **kwargs: Any) -> None:
        replacing = ("fly_ash_fraction", "slag_fraction", "silica_fume_fraction")
        replaced = sum(data.get(name) or 0.0 for name in replacing)
        if replaced > MOST_REPLACED:
            words = f"Ash, slag and fume make {replaced:.0%} of the binder; at most {MOST_REPLACED:.0%}."
            raise ValidationError(f"{words} Check the ticket.", "fly_ash_fraction")


class OrderPlaced(Body):
    volume_m3 = Measure(0.1, 500, "m³")
    loads = Count(1, 40)  # type: ignore[assignment]  # a field, not the method
    supplier = Text(120, optional=True)
    pour_at = Instant()
    slump_mm = Measure(0, 300, "mm", optional=True)
    colour = Text(80, optional=True)


class BayDrawn(Body):
    bay = ident("BayId")
    label = Text(24)
    corners = Corners()
    load = ident("LoadId", optional=True)  # type: ignore[assignment]  # a field, not the method
    order = Count(0, 1000)


SLAB_KINDS = (
    Kind("slab.outlined", SlabOutlined, (FOREMAN,), SetKey("slab")),
    Kind("mix.chosen", MixChosen, (FOREMAN,), SetKey("mix")),
    Kind("order.placed", OrderPlaced, (FOREMAN, OFFICE), SetKey("order")),
    Kind("bay.drawn", BayDrawn, (CREW, FOREMAN), SetKey("bays/{bay}")),
)
