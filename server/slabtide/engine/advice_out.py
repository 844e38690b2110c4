"""Advice as JSON-ready data."""

from zoneinfo import ZoneInfo

from slabtide.engine.advice import Advice, Candidate
from slabtide.engine.advice_reasons import Reason
from slabtide.engine.advice_wording import decision_words, held_beside_the_odds, reason_words
from slabtide.engine.times_out import time_out


def write_advice(advice: Advice) -> dict[str, object]:
    """The advice: the decision first, then every hour, best first."""
    zone = ZoneInfo(advice.time_zone)
    return {
        "version": 1,
        "decision": _decision(advice, zone),
        "hours": [_candidate(candidate, zone) for candidate in advice.candidates],
    }


def _decision(advice: Advice, zone: ZoneInfo) -> dict[str, object]:
    best = advice.best
    chance = round(best.trial.chance_to_make, 2)
    held = held_beside_the_odds(best.reasons) if advice.go else best.reasons[1:]
    return {
        "go": advice.go,
        "code": "go" if advice.go else best.reasons[0].code,
        "numbers": {"chance_to_make": chance} if advice.go else _numbers(best.reasons[0]),
        "start": time_out(best.start, zone) if advice.go else None,
        "but": _reason(held[0]) if held else None,
        "text": decision_words(advice.go, best.reasons, best.trial.chance_to_make),
    }


def _candidate(candidate: Candidate, zone: ZoneInfo) -> dict[str, object]:
    trial = candidate.trial
    return {
        "start": time_out(candidate.start, zone),
        "rank": candidate.rank,
        "go": candidate.go,
        "chance_to_make": round(trial.chance_to_make, 2),
        "evaporation_kg_m2_h": round(trial.evaporation_kg_m2_h, 2),
        "heat_index_c": round(trial.heat_index_c, 1),
        "rain_mm": round(trial.rain_mm, 1),
        "dark_minutes": trial.dark_minutes,
        "coldest_air_c": round(trial.coldest_air_c, 1),
        "concrete_temp_c": round(trial.warmest_load_c, 1),
        "work_until": time_out(trial.work_until, zone),
        "reasons": [_reason(reason) for reason in candidate.reasons],
    }


def _reason(reason: Reason) -> dict[str, object]:
    return {
        "code": reason.code,
        "stop": reason.stop,
        "numbers": _numbers(reason),
        "text": reason_words(reason),
    }


def _numbers(reason: Reason) -> dict[str, float]:
    return {name: round(value, 2) for name, value in reason.numbers.items()}
