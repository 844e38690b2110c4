"""Undo: an event that hides another."""

from slabtide.log.kinds.declare import CREW, FOREMAN, OFFICE, Kind, Retract
from slabtide.log.kinds.fields import Body, ident


class EventRetracted(Body):
    event = ident("EventId")


UNDO_KINDS = (Kind("event.retracted", EventRetracted, (CREW, FOREMAN, OFFICE), Retract()),)


def may_retract(role: str, author: str, target_author: str) -> bool:
    """Crew take back their own events; foreman and office take back anyone's."""
    return role in (FOREMAN, OFFICE) or author == target_author
