"""The next days: saw, wash, second colour, sealer."""

from slabtide.log.kinds.declare import CREW, FOREMAN, AddTo, Kind
from slabtide.log.kinds.fields import Body, Count, Flag, Measure, OneOf, Text, ident
from slabtide.log.kinds.job import SAWS
from slabtide.log.kinds.shapes import Spot


class CutMade(Body):
    length_m = Measure(0, 1000, "m")
    depth_m = Measure(0, 0.6, "m", optional=True)
    saw = OneOf(SAWS)
    ravelled = Flag(optional=True)
    last = Flag(optional=True)
    cut = ident("CutId", optional=True)

    class Meta:
        # "from" is a Python word
        include = {"from": Spot(optional=True), "to": Spot(optional=True)}  # noqa: RUF012


class WashDone(Body):
    method = Text(120, optional=True)
    contained = Flag()
    note = Text(500, optional=True)


class ColourApplied(Body):
    product = Text(120, optional=True)
    area_m2 = Measure(0, 5000, "m²", optional=True)
    note = Text(500, optional=True)


class CoatSealed(Body):
    coat = Count(1, 4)
    product = Text(120, optional=True)
    volume_l = Measure(0, 2000, "l", optional=True)
    area_m2 = Measure(0, 5000, "m²", optional=True)


AFTER_KINDS = (
    Kind("cut.made", CutMade, (CREW, FOREMAN), AddTo("cuts")),
    Kind("wash.done", WashDone, (CREW, FOREMAN), AddTo("washes")),
    Kind("colour.applied", ColourApplied, (CREW, FOREMAN), AddTo("colours")),
    Kind("coat.sealed", CoatSealed, (CREW, FOREMAN), AddTo("coats")),
)
