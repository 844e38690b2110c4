"""What is laid over the young slab, and when it is lifted: blankets, wet covers, sheets."""

from slabtide.log.kinds.declare import CREW, FOREMAN, Kind, SetKey
from slabtide.log.kinds.fields import Body, Measure, OneOf, ident
from slabtide.log.kinds.recipe import COVERS


class CoverLaid(Body):
    cover = ident("CoverId")
    cover_kind = OneOf(COVERS)
    r_m2k_w = Measure(0, 5, "m²K/W", optional=True)
    load = ident("LoadId", optional=True)  # type: ignore[assignment]  # a field, not the method


class CoverLifted(Body):
    cover = ident("CoverId")


COVER_KINDS = (
    Kind("cover.laid", CoverLaid, (CREW, FOREMAN), SetKey("covers/{cover}/laid")),
    Kind("cover.lifted", CoverLifted, (CREW, FOREMAN), SetKey("covers/{cover}/lifted")),
)
