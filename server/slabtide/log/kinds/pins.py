"""Pins: what someone saw on the slab, and that it was dealt with."""

from slabtide.log.kinds.declare import CREW, FOREMAN, Kind, SetKey
from slabtide.log.kinds.fields import Body, OneOf, Text, ident, photo
from slabtide.log.kinds.shapes import Spot

PINS = ("debris", "thin_texture", "ravelled_edge", "crack", "colour_patch", "splash", "other")


class PinDropped(Body):
    pin = ident("PinId")
    spot = Spot()
    what = OneOf(PINS)
    bay = ident("BayId", optional=True)
    note = Text(500, optional=True)
    photo = photo(optional=True)


class PinClosed(Body):
    pin = ident("PinId")
    how = Text(500, optional=True)


class PinAssigned(Body):
    pin = ident("PinId")
    person = ident("PersonId", optional=True)


PIN_KINDS = (
    Kind("pin.dropped", PinDropped, (CREW, FOREMAN), SetKey("pins/{pin}/dropped")),
    Kind("pin.closed", PinClosed, (CREW, FOREMAN), SetKey("pins/{pin}/closed")),
    Kind("pin.assigned", PinAssigned, (CREW, FOREMAN), SetKey("pins/{pin}/owner")),
)
