"""What was learned and how the race stands, as JSON-ready data."""

from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.crew import BODY_WEIGHT_SHARE, CARRY_MINUTES, MOVE_MINUTES, TAMPER_FROM_MPA
from slabtide.engine.pour import SurfaceCheck
from slabtide.engine.timeline import (
    Learned,
    LearnedChange,
    LoadPace,
    Pace,
    PaceCall,
    PaceChange,
    ReleaseLead,
    Where,
)
from slabtide.engine.times_out import time_out, when_out


def write_learned(learned: Learned, zone: ZoneInfo) -> dict[str, object]:
    """`learned` of one load."""
    early, likely, late = (round(factor, 3) for factor in learned.set_factor)
    return {
        "set_factor": {"early": early, "likely": likely, "late": late},
        "from_checks": learned.from_checks,
        "changes": [_learned_change(change, zone) for change in learned.changes],
        "contradictory": [_check(check, zone) for check in learned.contradictory],
    }


def write_pace(pace: Pace, zone: ZoneInfo) -> dict[str, object]:
    """`pace` of the pour."""
    rate = pace.rate
    return {
        "start": {
            "ready_at": time_out(pace.ready_at, zone),
            "opens": when_out(pace.opens, zone),
            "by": pace.start_by and when_out(pace.start_by, zone),
        },
        "where": _where(pace.where),
        "loads": [_load(load, zone) for load in pace.loads],
        "chance_to_miss": round(pace.chance_to_miss, 2),
        "slack_minutes": _slack(pace.slack_minutes),
        "limiting": pace.limiting,
        "release": _release(pace.release),
        "calls": [_call(call, zone) for call in pace.calls],
        "changes": [_change(change) for change in pace.changes],
        "model": {
            "hands": rate.hands,
            "limited_by": rate.limited_by,
            "rate_m2_h": round(rate.tamper_m2_h, 1),
            "body_weight_rate_m2_h": round(rate.soft_m2_h, 1),
            "body_weight_share": BODY_WEIGHT_SHARE,
            "tamper_from_mpa": TAMPER_FROM_MPA,
            "carry_minutes": CARRY_MINUTES,
            "move_minutes": MOVE_MINUTES,
        },
    }


def _learned_change(change: LearnedChange, zone: ZoneInfo) -> dict[str, object]:
    return {
        "load": change.load,
        "at": time_out(change.at, zone),
        "kind": change.kind,
        "percent_faster": round(change.percent_faster),
        "texture_closes_was": _maybe(change.texture_closes_was, zone),
        "texture_closes_now": _maybe(change.texture_closes_now, zone),
    }


def _check(check: SurfaceCheck, zone: ZoneInfo) -> dict[str, object]:
    return {
        "load": check.load,
        "at": time_out(check.at, zone),
        "kind": check.kind,
        "depth_mm": check.depth_mm,
    }


def _maybe(time: datetime | None, zone: ZoneInfo) -> str | None:
    return None if time is None else time_out(time, zone)


def _load(load: LoadPace, zone: ZoneInfo) -> dict[str, object]:
    return {
        "id": load.id,
        "left_m2": round(load.left_m2, 2),
        "reached": when_out(load.reached, zone),
        "finished": when_out(load.finished, zone),
        "closes": when_out(load.closes, zone),
        "slack_minutes": _slack(load.slack_minutes),
        "chance_to_miss": round(load.chance_to_miss, 2),
        "tamper_from": _maybe(load.tamper_from, zone),
        "tamper_chance": round(load.tamper_chance, 2),
    }


def _change(change: PaceChange) -> dict[str, object]:
    return {
        "change": change.change,
        "amount": round(change.amount, 2),
        "unit": change.unit,
        "chance_to_miss_after": round(change.chance_to_miss_after, 2),
        "slack_minutes_gained": round(change.slack_minutes_gained),
    }


def _slack(minutes: tuple[float, float, float]) -> dict[str, int]:
    early, likely, late = (round(value) for value in minutes)
    return {"early": early, "likely": likely, "late": late}


def _where(where: Where) -> dict[str, object]:
    return {
        "begun": where.begun,
        "load": where.load,
        "done_m2": round(where.done_m2, 1),
        "left_m2": round(where.left_m2, 1),
        "planned_m2": round(where.planned_m2, 1),
        "behind_minutes": round(where.behind_minutes),
        "speed": round(where.speed, 2),
        "timed_minutes": round(where.timed_minutes),
    }


def _release(release: ReleaseLead) -> dict[str, object]:
    return {
        "load": release.load,
        "lasts_minutes": round(release.lasts_minutes),
        "ahead_m2": round(release.ahead_m2, 1),
    }


def _call(call: PaceCall, zone: ZoneInfo) -> dict[str, object]:
    params = {name: round(value, 2) for name, value in call.params.items()}
    return {"code": call.code, "load": call.load, "at": time_out(call.at, zone), "params": params}
