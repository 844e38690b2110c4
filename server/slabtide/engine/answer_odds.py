"""What was learned and how the race stands, as JSON-ready data."""

from datetime import datetime
from zoneinfo import ZoneInfo

from slabtide.engine.crew import BODY_WEIGHT_SHARE, CARRY_MINUTES, MOVE_MINUTES, TAMPER_FROM_MPA
from slabtide.engine.pour import SurfaceCheck
from slabtide.engine.timeline import Learned, LearnedChange, LoadPace, Pace, PaceChange
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
        "loads": [_load(load, zone) for load in pace.loads],
        "chance_to_miss": round(pace.chance_to_miss, 2),
        "limiting": pace.limiting,
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
    early, likely, late = (round(minutes) for minutes in load.slack_minutes)
    return {
        "id": load.id,
        "reached": when_out(load.reached, zone),
        "finished": when_out(load.finished, zone),
        "closes": when_out(load.closes, zone),
        "slack_minutes": {"early": early, "likely": likely, "late": late},
        "chance_to_miss": round(load.chance_to_miss, 2),
    }


def _change(change: PaceChange) -> dict[str, object]:
    return {
        "change": change.change,
        "amount": round(change.amount, 2),
        "unit": change.unit,
        "chance_to_miss_after": round(change.chance_to_miss_after, 2),
    }
