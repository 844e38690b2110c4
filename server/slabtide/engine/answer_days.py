"""The days ahead and the saw's plan as JSON-ready data."""

from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.cut_plan import PlannedCut, SawPlan
from slabtide.engine.days_ahead import After, DaysAhead, Drying, KeptAhead, WorkAhead
from slabtide.engine.slots import HoursOut, Why
from slabtide.engine.timeline import Slot
from slabtide.engine.times_out import time_out


def write_days(days: DaysAhead, zone: ZoneInfo) -> dict[str, object]:
    """`days_ahead` of the pour."""
    return {
        "from": time_out(days.starts, zone),
        "to": time_out(days.ends, zone),
        "works": [_work(work, zone) for work in days.works],
        "drying": _drying(days.drying, zone),
    }


def write_slot(slot: Slot, zone: ZoneInfo) -> dict[str, object]:
    """One slot, with the numbers behind its reason."""
    return {
        "from": time_out(slot.starts, zone),
        "to": time_out(slot.ends, zone),
        "reason": slot.reason,
        "air_c": [round(air, 1) for air in slot.air_c],
        "over_dew_k": round(slot.over_dew_k, 1),
        "wind_kmh": round(slot.wind_kmh, 1),
        "no_rain_h": slot.dry_after_h[0],
        "no_rain_asked_h": slot.dry_after_h[1],
    }


def write_saw_plan(plan: SawPlan, zone: ZoneInfo) -> dict[str, object]:
    """`saw_plan` of the pour."""
    tested = plan.tested
    return {
        "kind": plan.kind,
        "rate_m_per_min": plan.rate_m_per_min,
        "left_m": round(plan.left_m, 2),
        "minutes_left": round(plan.minutes_left, 1),
        "opens": _maybe(plan.opens, zone),
        "start_by": _maybe(plan.start_by, zone),
        "short_from": plan.short_from,
        "saws": plan.saws,
        "test": tested
        and {
            "at": time_out(tested.test.at, zone),
            "result": tested.test.result,
            "load": tested.test.load,
            "again_at": _maybe(tested.again_at, zone),
        },
        "cuts": [_cut(cut, zone) for cut in plan.cuts],
    }


def _cut(one: PlannedCut, zone: ZoneInfo) -> dict[str, object]:
    return {
        "id": one.cut.id,
        "length_m": round(one.cut.length_m, 3),
        "minutes": round(one.minutes, 1),
        "opens": _maybe(one.opens, zone),
        "closes": _maybe(one.closes, zone),
        "start_by": _maybe(one.start_by, zone),
        "starts": _maybe(one.starts, zone),
        "ends": _maybe(one.ends, zone),
        "late": one.late,
        "made_at": _maybe(one.cut.made_at, zone),
    }


def _work(work: WorkAhead, zone: ZoneInfo) -> dict[str, object]:
    return {
        "work": work.work,
        "coat": work.coat,
        "after": work.after and _after(work.after, zone),
        "opens": _maybe(work.opens, zone),
        "shuts": _maybe(work.shuts, zone),
        "limits": {
            name: {"value": limit.value, "from": "label" if limit.from_label else "practice"}
            for name, limit in work.needs.limits.items()
        },
        "slots": [write_slot(slot, zone) for slot in work.slots],
        "hours_out": [_out(out, zone) for out in work.out],
        "kept": work.kept and _kept(work.kept, zone),
    }


def _after(after: After, zone: ZoneInfo) -> dict[str, object]:
    return {"work": after.work, "coat": after.coat, "at": _maybe(after.at, zone), "done": after.done}


def _kept(kept: KeptAhead, zone: ZoneInfo) -> dict[str, object]:
    return {
        "from": time_out(kept.slot.starts, zone),
        "to": time_out(kept.slot.ends, zone),
        "out": [_out(out, zone) for out in kept.out],
        "known": kept.known,
        "next_best": kept.next_best and write_slot(kept.next_best, zone),
    }


def _out(out: HoursOut, zone: ZoneInfo) -> dict[str, object]:
    return {
        "from": time_out(out.starts, zone),
        "to": time_out(out.ends, zone),
        "why": [_why(why, zone) for why in out.why],
    }


def _why(why: Why, zone: ZoneInfo) -> dict[str, object]:
    told: dict[str, object] = {"code": why.code}
    if why.value is not None:
        told["value"] = round(why.value, 1)
    if why.limit is not None:
        told["limit"] = round(why.limit, 1)
    if why.at is not None:
        told["at"] = time_out(why.at, zone)
    if why.of is not None:
        told["of"] = why.of
    return told


def _drying(drying: Drying, zone: ZoneInfo) -> dict[str, object]:
    early, likely, late = (_maybe(at, zone) for at in drying.dry_at)
    return {
        "water_kg_m2": round(drying.water_kg_m2, 2),
        "wetted_by": drying.cause,
        "dry_at": {"early": early, "likely": likely, "late": late},
    }


def _maybe(at: datetime | None, zone: ZoneInfo) -> str | None:
    return None if at is None else time_out(at, zone)
