"""Facts both forms tell: what was placed and when, in what weather. It brings in nothing that prints."""

from dataclasses import dataclass
from datetime import datetime, timedelta

from slabtide.engine.pour import WeatherHour
from slabtide.log.instants import read_instant
from slabtide.log.model import JobView


@dataclass(frozen=True, slots=True)
class Span:
    """From one moment to another."""

    begins: datetime
    ends: datetime


def placing(view: JobView) -> Span | None:
    """First concrete down to last; None before any is placed."""
    placed = [load.placed for load in view.loads if load.placed] + [load.placed for load in view.unticketed]
    if not placed:
        return None
    return Span(min(read_instant(one.from_) for one in placed), max(read_instant(one.to) for one in placed))


def texturing(view: JobView) -> Span | None:
    """First mat down to the last bay's end; None until a bay is done."""
    steps = [bay.steps["texture"] for bay in view.bays if "texture" in bay.steps]
    starts = [read_instant(mark.at) for step in steps if (mark := step.start or step.end)]
    ends = [read_instant(step.end.at) for step in steps if step.end]
    return Span(min(starts), max(ends)) if ends else None


def placed_volume_m3(view: JobView) -> float:
    """Of the tickets of the loads that were placed, m3."""
    return sum(load.volume_m3 for load in view.loads if load.placed)


def placed_loads(view: JobView) -> int:
    """Loads placed, with a ticket or without."""
    return sum(load.placed is not None for load in view.loads) + len(view.unticketed)


def hours_in(hours: tuple[WeatherHour, ...], span: Span) -> list[WeatherHour]:
    """The hours a span touches."""
    half = timedelta(minutes=30)
    return [hour for hour in hours if span.begins - half <= hour.at <= span.ends + half]


def hour_at(hours: tuple[WeatherHour, ...], moment: datetime) -> WeatherHour | None:
    """The nearest hour, when one is within the hour."""
    nearest = min(hours, key=lambda hour: abs(hour.at - moment), default=None)
    return nearest if nearest and abs(nearest.at - moment) <= timedelta(hours=1) else None


def rain_mm(hours: tuple[WeatherHour, ...], begins: datetime) -> float | None:
    """Rain in the 24 h after placing began, mm; None when the hours do not reach that far."""
    within = [hour for hour in hours if begins <= hour.at <= begins + timedelta(hours=24)]
    return sum(hour.rain_mm for hour in within) if len(within) >= 23 else None
