"""Advice as JSON-ready data."""

from dataclasses import asdict
from zoneinfo import ZoneInfo

from slabtide.engine.advice import Advice, Candidate
from slabtide.engine.advice_night import Night
from slabtide.engine.advice_reasons import Reason
from slabtide.engine.advice_wording import decision_words, held_beside_the_odds, reason_words
from slabtide.engine.times_out import time_out
from slabtide.engine.wording import clock_words


def write_advice(advice: Advice) -> dict[str, object]:
    """The advice: the decision first, then every hour, best first."""
    zone = ZoneInfo(advice.time_zone)
    return {
        "version": 1,
        "decision": _decision(advice, zone),
        "hours": [_candidate(candidate, zone) for candidate in advice.candidates],
        "limits": asdict(advice.limits),
    }


def _decision(advice: Advice, zone: ZoneInfo) -> dict[str, object]:
    best, verdict = advice.best, advice.verdict
    chance = round(best.trial.chance_to_make, 2)
    held = held_beside_the_odds(best.reasons) if verdict == "go" else best.reasons[1:]
    return {
        "verdict": verdict,
        "code": "go" if verdict == "go" else best.reasons[0].code,
        "numbers": {"chance_to_make": chance} if verdict == "go" else _numbers(best.reasons[0]),
        "start": None if verdict == "no_go" else time_out(best.start, zone),
        "but": _reason(held[0]) if held else None,
        "text": decision_words(
            verdict, clock_words(best.start, zone), best.reasons, best.trial.chance_to_make
        ),
    }


def _candidate(candidate: Candidate, zone: ZoneInfo) -> dict[str, object]:
    trial = candidate.trial
    return {
        "start": time_out(candidate.start, zone),
        "rank": candidate.rank,
        "verdict": candidate.verdict,
        "chance_to_make": round(trial.chance_to_make, 2),
        "evaporation_kg_m2_h": round(trial.evaporation_kg_m2_h, 2),
        "heat_index_c": round(trial.heat_index_c, 1),
        "rain_mm": round(trial.rain_mm, 1),
        "rain_to_set_mm": round(trial.rain_to_set_mm, 1),
        "dark_minutes": trial.dark_minutes,
        "coldest_air_c": round(trial.coldest_air_c, 1),
        "concrete_temp_c": round(trial.warmest_load_c, 1),
        "work_until": time_out(trial.work_until, zone),
        "saw": _saw(trial.night, zone),
        "surface_drop": trial.night.drop_at and time_out(trial.night.drop_at, zone),
        "reasons": [_reason(reason) for reason in candidate.reasons],
    }


def _saw(night: Night, zone: ZoneInfo) -> dict[str, str] | None:
    if night.saw_opens is None or night.saw_closes is None:
        return None
    return {"opens": time_out(night.saw_opens, zone), "closes": time_out(night.saw_closes, zone)}


def _reason(reason: Reason) -> dict[str, object]:
    return {
        "code": reason.code,
        "weight": reason.weight,
        "numbers": _numbers(reason),
        "text": reason_words(reason),
    }


def _numbers(reason: Reason) -> dict[str, float]:
    return {name: round(value, 2) for name, value in reason.numbers.items()}
