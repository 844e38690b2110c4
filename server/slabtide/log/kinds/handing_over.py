"""After the crew has gone: what the owner is told to keep to, and what was called back about."""

from slabtide.log.kinds.declare import FOREMAN, OFFICE, AddTo, Kind, SetKey
from slabtide.log.kinds.fields import Body, Measure, OneOf, Text, ident

CALLED_BACK = (
    "crack",
    "colour",
    "scaling",
    "ravelled",
    "white_sealer",
    "settled",
    "slippery",
    "other",
)


class CallbackNoted(Body):
    what = OneOf(CALLED_BACK)
    bay = ident("BayId", optional=True)
    note = Text(500, optional=True)


class CareSet(Body):
    walk_h = Measure(0, 720, "h", optional=True)
    drive_h = Measure(0, 2160, "h", optional=True)
    wash_days = Measure(0, 90, "days", optional=True)
    reseal_months = Measure(1, 120, "months", optional=True)


HANDING_OVER_KINDS = (
    Kind("callback.noted", CallbackNoted, (FOREMAN, OFFICE), AddTo("callbacks")),
    Kind("care.set", CareSet, (FOREMAN, OFFICE), SetKey("care")),
)
