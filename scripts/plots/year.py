"""A pour on every day of a typical year in Greensboro: when it could be textured and sawn."""

from datetime import date, timedelta
from functools import cache

from matplotlib.axes import Axes
from matplotlib.figure import Figure
from scripts.plots.paper import ACCENT, COOL, INK, PALE, SOFT, sheet
from tests.engine.year import DAYS, pour_on

from slabtide.engine import Timeline, forecast
from slabtide.engine.timeline import WindowName

HOUR = timedelta(hours=1)


@cache
def timelines() -> dict[int, Timeline]:
    """The timeline of each day, placed at eight in the morning."""
    told = {}
    for day in DAYS:
        pour = pour_on(day)
        told[day] = forecast(pour, pour.loads[0].batched_at)
    return told


def _bars(axes: Axes, name: WindowName, most_h: float, colour: str = INK) -> int:
    """Each day's window as a bar from likely opening to likely close; returns how many days have none."""
    missing = 0
    for day, timeline in timelines().items():
        start = pour_on(day).loads[0].placed_from
        window = timeline.loads[0].windows[name]
        if window is None or window.closes is None:
            missing += 1
            axes.plot([day], [most_h * 0.985], marker="x", color=ACCENT, ms=4, mew=1)
            continue
        opens, closes = ((at - start) / HOUR for at in (window.opens.likely, window.closes.likely))
        bar = [opens, min(closes, most_h)]
        axes.plot([day, day], bar, color=colour, lw=1.1, solid_capstyle="butt", zorder=1)
    return missing


def _months(axes: Axes) -> None:
    firsts = [(date(2026, month, 1) - date(2026, 1, 1)).days for month in range(1, 13)]
    axes.set_xticks(firsts, ["J", "F", "M", "A", "M", "J", "J", "A", "S", "O", "N", "D"])
    for first in firsts[::2]:
        axes.axvspan(first, first + 30.5, color=PALE, alpha=0.35, lw=0, zorder=0)
    axes.set_xlim(0, 365)


def texture() -> Figure:
    """Texturing: likely opening to likely close, hours after placing; a cross where there is no window."""
    figure, (axes,) = sheet(height=3.2)
    missing = _bars(axes, "texture", 14.0)
    _months(axes)
    axes.set_ylim(0, 14)
    axes.set_ylabel("hours after placing begins")
    axes.set_title(
        f"Texturing, one bar a day; × no safe window, and the notice says why ({missing} days of {len(DAYS)})"
    )
    return figure


def saw() -> Figure:
    """Sawing: our window beside practice's close and the surface's drop."""
    figure, (axes,) = sheet(height=3.8)
    missing = _bars(axes, "saw", 96.0, "#b8bcc4")
    opens, closes, drops = [], [], []
    for day, timeline in timelines().items():
        start, practice = pour_on(day).loads[0].placed_from, timeline.loads[0].saw_practice
        opens.append((day, (practice.opens - start) / HOUR))
        closes.append((day, (practice.closes - start) / HOUR))
        if practice.surface_drop is not None:
            drops.append((day, (practice.surface_drop - start) / HOUR))
    axes.plot(*zip(*opens, strict=True), ".", color=COOL, ms=2.5, label="practice opens")
    axes.plot(*zip(*closes, strict=True), ".", color=ACCENT, ms=2.5, label="practice closes")
    axes.plot(*zip(*drops, strict=True), "_", color=SOFT, ms=4, label="surface 15 °F under its peak")
    _months(axes)
    axes.set_yscale("log", base=2)
    axes.set_yticks([4, 6, 8, 12, 18, 24, 36, 48, 72, 96], [4, 6, 8, 12, 18, 24, 36, 48, 72, 96])
    axes.minorticks_off()
    axes.set_ylim(3.5, 100)
    axes.set_ylabel("hours after placing begins")
    axes.set_title(f"Conventional saw, crushed hard stone; bars are ours ({missing} days without)")
    axes.legend(ncols=3, loc="lower center")
    return figure
