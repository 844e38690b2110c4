"""What would happen if: the pour as it stands beside the pour with something changed."""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.answer import window_out
from slabtide.engine.answer_odds import write_pace
from slabtide.engine.changes import PourChange, changed
from slabtide.engine.pour import Pour
from slabtide.engine.prediction import forecast
from slabtide.engine.solved import Solved
from slabtide.engine.timeline import LoadTimeline, Timeline, WindowName
from slabtide.engine.times_out import time_out

_SHOWN: tuple[WindowName, ...] = ("texture", "saw")


@dataclass(frozen=True, slots=True)
class WhatIf:
    """Two answers to one question. `pour` is the one changed."""

    at: datetime
    pour: Pour
    before: Timeline
    after: Timeline


def what_if(
    pour: Pour,
    at: datetime,
    changes: Sequence[PourChange],
    before: Timeline | None = None,
    solved: Solved | None = None,
) -> WhatIf:
    """The pour with changes made, beside the pour as it is.

    at -- now: what is batched or placed by then stays as it is
    changes -- as `read_changes` gives them
    before -- the forecast of the pour as it is at the same time, where it is at hand already
    solved -- heat that was solved before, and where this is kept

    Raises: ValueError when `at` has no UTC offset.
    """
    after = changed(pour, at, changes)
    heat = Solved() if solved is None else solved  # what the changes leave alone is solved once
    return WhatIf(at, after, before or forecast(pour, at, heat), forecast(after, at, heat))


def write_what_if(told: WhatIf) -> dict[str, object]:
    """The two answers as JSON-ready data: windows and pace side by side, and notices come and gone."""
    zone = ZoneInfo(told.after.time_zone)
    was = {load.id: load for load in told.before.loads}
    loads = zip(told.after.loads, told.pour.loads, strict=True)
    gone, new = _notices(told.before, told.after), _notices(told.after, told.before)
    return {
        "version": told.after.version,
        "at": time_out(told.at, zone),
        "loads": [
            {
                "id": after.id,
                "concrete_temp_c": round(load.concrete_temp_c, 1),
                "area_m2": round(load.area_m2, 2),
                "windows": {name: _window(was[after.id], after, name, zone) for name in _SHOWN},
            }
            for after, load in loads
        ],
        "pace": {
            "before": told.before.pace and write_pace(told.before.pace, zone),
            "after": told.after.pace and write_pace(told.after.pace, zone),
        },
        "warnings": {"gone": gone, "new": new},
    }


def _window(was: LoadTimeline, now: LoadTimeline, name: WindowName, zone: ZoneInfo) -> Mapping[str, object]:
    before, after = was.windows.get(name), now.windows.get(name)
    later = None
    if before and after and before.closes and after.closes:
        later = round((after.closes.likely - before.closes.likely).total_seconds() / 60.0)
    return {
        "before": window_out(before, zone),
        "after": window_out(after, zone),
        "closes_later_minutes": later,
    }


def _notices(these: Timeline, others: Timeline) -> list[dict[str, str | None]]:
    known = {(notice.code, notice.load) for notice in others.warnings}
    fresh = [notice for notice in these.warnings if (notice.code, notice.load) not in known]
    return [{"code": notice.code, "load": notice.load, "text": notice.text} for notice in fresh]
