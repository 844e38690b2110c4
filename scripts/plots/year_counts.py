"""The year of pours in numbers: its windows by month, and the days that have none or come out of order."""

from collections import Counter
from collections.abc import Iterator
from datetime import timedelta
from statistics import median

from scripts.plots.year import HOUR, timelines
from tests.engine.year import pour_on

from slabtide.engine import Timeline
from slabtide.engine.timeline import Window, WindowName


def rows() -> Iterator[str]:
    """A table in Markdown: median hours after strike-off, month by month; then the counts."""
    yield "| month | days | no texturing | texture opens | closes | lasts | saw opens | closes |"
    yield "| --- | --- | --- | --- | --- | --- | --- | --- |"
    months: dict[int, list[int]] = {}
    for day in timelines():
        months.setdefault(pour_on(day).weather.hourly[0].at.month, []).append(day)
    for month, days in months.items():
        texture, saw = _spans(days, "texture"), _spans(days, "saw")
        told = [_median(texture, 0), _median(texture, 1), median(b - a for a, b in texture)]
        told += [_median(saw, 0), _median(saw, 1)]
        hours = " | ".join(f"{value:.1f}" for value in told)
        yield f"| {month} | {len(days)} | {len(days) - len(texture)} | {hours} |"
    counts: Counter[str] = Counter()
    for timeline in timelines().values():
        counts.update(_faults(timeline))
    yield ""
    yield from (f"{name}: {counts[name]}" for name in sorted(counts))


def _spans(days: list[int], name: WindowName) -> list[tuple[float, float]]:
    """Likely hours from strike-off to opening and close, of the days that have a window."""
    spans = []
    for day in days:
        window = timelines()[day].loads[0].windows[name]
        struck_off = pour_on(day).loads[0].placed_to
        if window is not None and window.closes is not None:
            opens, closes = window.opens.likely - struck_off, window.closes.likely - struck_off
            spans.append((opens / HOUR, closes / HOUR))
    return spans


def _median(spans: list[tuple[float, float]], which: int) -> float:
    return median(span[which] for span in spans)


def _faults(timeline: Timeline) -> Iterator[str]:
    load = timeline.loads[0]
    missing = [name for name, window in load.windows.items() if window is None]
    yield from (f"no window: {name}" for name in missing)
    told = [notice for notice in timeline.warnings if notice.code == "no_safe_window"]
    yield from (f"no window for: {notice.params['case']}" for notice in told)
    if bool(missing) != bool(told):
        yield "missing without a notice"
    if any(window is not None and _inverted(window) for window in load.windows.values()):
        yield "inverted"
    saw, practice = load.windows["saw"], load.saw_practice
    if saw is None or saw.closes is None:
        return
    if practice.surface_drop is not None and practice.surface_drop < saw.opens.likely:
        yield "surface drops before the saw can cut"
    if practice.closes < saw.opens.likely:
        yield "practice is over before the saw can cut"
    if saw.closes.likely < practice.closes:
        yield "we close before practice does"


def _inverted(window: Window) -> bool:
    if window.closes is None:
        return False
    return any(
        getattr(window.closes, share) - getattr(window.opens, share) < timedelta(0)
        for share in ("early", "likely", "late")
    )
