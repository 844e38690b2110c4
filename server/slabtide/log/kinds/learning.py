"""What the company learns from: a pour that is not typical can be set aside, with the reason."""

from slabtide.log.kinds.declare import FOREMAN, OFFICE, Kind, SetKey
from slabtide.log.kinds.fields import Body, Text


class LearningSetAside(Body):
    why = Text(200)


LEARNING_KINDS = (Kind("learning.set_aside", LearningSetAside, (FOREMAN, OFFICE), SetKey("aside")),)
