"""The answer as JSON-ready data, exactly as the contract has it."""

from zoneinfo import ZoneInfo

from slabtide.engine.answer_days import write_days, write_saw_plan, write_slot
from slabtide.engine.answer_odds import write_learned, write_pace
from slabtide.engine.solved import Solved
from slabtide.engine.timeline import (
    SLOT_NAMES,
    WINDOW_NAMES,
    CurvePoint,
    LoadTimeline,
    Notice,
    Param,
    SawPractice,
    Timeline,
    Window,
)
from slabtide.engine.times_out import time_out, times_out, when_out


def write_timeline(timeline: Timeline, solved: Solved | None = None) -> dict[str, object]:
    """The timeline as JSON-ready data, times ISO 8601 in the pour's own zone.

    solved -- that of the forecast: a curve that goes on at the times it had keeps their text
    """
    zone, kept = ZoneInfo(timeline.time_zone), Solved() if solved is None else solved
    return {
        "version": timeline.version,
        "loads": [_load_out(load, zone, kept) for load in timeline.loads],
        "pace": timeline.pace and write_pace(timeline.pace, zone),
        "slots": {
            name: [write_slot(slot, zone) for slot in timeline.slots.get(name, ())] for name in SLOT_NAMES
        },
        "days_ahead": write_days(timeline.days, zone),
        "saw_plan": timeline.saw_plan and write_saw_plan(timeline.saw_plan, zone),
        "mix": timeline.mix_words,
        "warnings": [_notice_out(notice, zone) for notice in timeline.warnings],
    }


def _load_out(load: LoadTimeline, zone: ZoneInfo, kept: Solved) -> dict[str, object]:
    # Times on one UTC clock are the same where they are equal; those of a zone are not where it turns back.
    texts = kept.of(times_out, tuple(point.at for point in load.curve), zone)
    windows = {name: window_out(load.windows.get(name), zone) for name in WINDOW_NAMES}
    return {
        "id": load.id,
        "windows": windows,
        "learned": write_learned(load.learned, zone),
        "saw_practice": _practice_out(load.saw_practice, zone),
        "curve": [_point_out(point, at) for point, at in zip(load.curve, texts, strict=True)],
    }


def _practice_out(practice: SawPractice, zone: ZoneInfo) -> dict[str, str | None]:
    drop = practice.surface_drop
    return {
        "opens": time_out(practice.opens, zone),
        "closes": time_out(practice.closes, zone),
        "surface_drop": None if drop is None else time_out(drop, zone),
        "source": practice.source,
    }


def window_out(window: Window | None, zone: ZoneInfo) -> dict[str, object] | None:
    """A window, null where there is none."""
    if window is None:
        return None
    return {
        "opens": when_out(window.opens, zone),
        "closes": window.closes and when_out(window.closes, zone),
    }


def _point_out(point: CurvePoint, at: str) -> dict[str, object]:
    return {
        "at": at,
        "surface_temp_c": round(point.surface_temp_c, 2),
        "mean_temp_c": round(point.mean_temp_c, 2),
        "equivalent_age_h": round(point.equivalent_age_h, 3),
        "penetration_mpa": round(point.penetration_mpa, 4),
        "strength_mpa": round(point.strength_mpa, 3),
        "stress_ratio": round(point.stress_ratio, 3),
        "evaporation_kg_m2_h": round(point.evaporation_kg_m2_h, 3),
    }


def _notice_out(notice: Notice, zone: ZoneInfo) -> dict[str, object]:
    return {
        "code": notice.code,
        "load": notice.load,
        "from": time_out(notice.starts, zone),
        "to": time_out(notice.ends, zone),
        "text": notice.text,
        "params": {name: _param_out(value) for name, value in notice.params.items()},
    }


def _param_out(value: Param) -> float | str | list[str]:
    if isinstance(value, str):
        return value
    return list(value) if isinstance(value, tuple) else round(value, 2)
