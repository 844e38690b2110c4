"""How long after a pour its days are looked at, and how far the weather must reach then."""

from datetime import datetime, timedelta

from slabtide.log.model import JobView

DAYS_AHEAD = timedelta(days=7)
LONGEST = timedelta(days=39)  # what the engine takes in one go, less a day; 28 days for a sealer lie within
USUAL_COATS = 2


def work_left(view: JobView) -> bool:
    """Whether anything of the days after is still to do: cuts, or coats of sealer."""
    if view.closed is not None:
        return False
    sealer = view.products.get("seal")
    wanted = (sealer.coats if sealer else None) or USUAL_COATS
    return not view.cuts_done or len({coat.coat for coat in view.coats}) < wanted


def weather_until(view: JobView, begins: datetime, ends: datetime, now: datetime) -> datetime:
    """Until when weather is of use: `ends`, or a week from `now` while work is left, 39 days at most.

    begins -- when the pour begins; ends -- the end that the concrete itself asks for
    """
    if not work_left(view):
        return ends
    return max(ends, min(now + DAYS_AHEAD, begins + LONGEST))
