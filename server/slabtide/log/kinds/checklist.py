"""Getting ready: ticks, form points, joints, level shots, release."""

from slabtide.log.kinds.declare import CREW, FOREMAN, Kind, SetKey
from slabtide.log.kinds.fields import Body, Count, Flag, Measure, OneOf, Pattern, Text, ident
from slabtide.log.kinds.shapes import Spot

LISTS = ("forms", "isolation", "slope", "debris", "release", "touch_up")
RELEASES = ("powder", "liquid")
SUBJECT = r"^([0-9]{1,3}|[0-9a-f]{8}(-[0-9a-f]{4}){3}-[0-9a-f]{12})?$"


class ItemTicked(Body):
    list = OneOf(LISTS)
    item = Pattern(r"^[a-z][a-z0-9_]{0,39}$", "Must be an item's short name: small letters, digits, _.")
    subject = Pattern(SUBJECT, "Must be empty for the whole job, or a bay, point or side id.")
    done = Flag()
    note = Text(500, optional=True)


class FormMeasured(Body):
    point = ident("PointId")
    label = Text(24)
    spot = Spot()
    height_m = Measure(-10, 10, "m", optional=True)
    depth_m = Measure(0, 2, "m", optional=True)
    firm = Flag(optional=True)


class JointChecked(Body):
    edge = Count(0, 119)
    full_depth = Flag()
    continuous = Flag()
    depth_m = Measure(0, 2, "m", optional=True)
    note = Text(500, optional=True)


class LevelShot(Body):
    point = ident("PointId")
    label = Text(24)
    spot = Spot()
    reading_m = Measure(-10, 10, "m")


class ReleaseLaid(Body):
    bay = ident("BayId")
    mass_kg = Measure(0, 1000, "kg", optional=True)
    what = OneOf(RELEASES, optional=True)
    product = Text(120, optional=True)


CHECKLIST_KINDS = (
    Kind("item.ticked", ItemTicked, (CREW, FOREMAN), SetKey("ticks/{list}/{item}/{subject}")),
    Kind("form.measured", FormMeasured, (CREW, FOREMAN), SetKey("forms/{point}")),
    Kind("joint.checked", JointChecked, (CREW, FOREMAN), SetKey("joints/{edge}")),
    Kind("level.shot", LevelShot, (CREW, FOREMAN), SetKey("levels/{point}")),
    Kind("release.laid", ReleaseLaid, (CREW, FOREMAN), SetKey("release/{bay}")),
)
