"""Plain English for advice, by code and numbers; another language needs only another table."""

from collections.abc import Callable, Mapping

from slabtide.engine.advice_reasons import Reason, ReasonCode, Verdict
from slabtide.engine.wording import chances, degrees, drop, hour_words, rain, water_loss

Numbers = Mapping[str, float]

_WORDS: dict[ReasonCode, Callable[[Numbers], str]] = {
    "frozen_ground": lambda n: "The ground is frozen: never place on frozen ground.",
    "rain": lambda n: f"Rain on fresh concrete, {rain(n['rain_mm'])}.",
    "freezing": lambda n: f"Air falls to {degrees(n['coldest_air_c'])} the first day: it freezes young.",
    "crew_misses": lambda n: f"This crew misses part of the slab, {chances(n['chance_to_miss'])}.",
    "no_window": lambda n: f"Part of the slab may have no texturing window, {chances(n['chance_to_miss'])}.",
    "hot_concrete": lambda n: f"Concrete would come at {degrees(n['concrete_temp_c'])}: too hot to place.",
    "evaporation": lambda n: f"A wet surface may lose {water_loss(n['evaporation_kg_m2_h'])}, and crust.",
    "heat_index": lambda n: f"It feels like {degrees(n['heat_index_c'])} in the shade.",
    "dark": lambda n: f"{n['dark_minutes']:.0f} min of the work fall in the dark.",
    "saw_missed": lambda n: (
        f"The saw may start at {hour_words(n['saw_opens_h'])} and should be done by"
        f" {hour_words(n['saw_closes_h'])}: no room for the cut. Early-entry saw or tooled joints."
    ),
    "night_drop": lambda n: (
        f"First night: by {hour_words(n['drop_h'])} the surface is {drop(n['drop_k'])} under its peak. Cut"
        " before, or lay blankets."
    ),
    "saw_at_night": lambda n: (
        f"The saw falls in the night, {hour_words(n['saw_opens_h'])} to {hour_words(n['saw_closes_h'])}."
    ),
    "saw_in_dark": lambda n: (
        f"The saw wants lights, {hour_words(n['saw_opens_h'])} to {hour_words(n['saw_closes_h'])}."
    ),
    "rain_to_set": lambda n: f"Rain on the texture before it has set, {rain(n['rain_mm'])}: covers at hand.",
    "cold_air": lambda n: f"Air falls to {degrees(n['coldest_air_c'])} the first day: keep covers at hand.",
    "cold_concrete": lambda n: f"Concrete would come at {degrees(n['concrete_temp_c'])}: slow to set.",
}


def reason_words(reason: Reason) -> str:
    """One reason as a sentence."""
    return _WORDS[reason.code](reason.numbers)


def decision_words(verdict: Verdict, time: str, reasons: tuple[Reason, ...], chance_to_make: float) -> str:
    """The verdict, its reason first. `time` is the best hour, as people say it."""
    if verdict == "no_go":
        return f"{reason_words(reasons[0])} No-go at every hour tried; least bad: {time}."
    if verdict == "tight":
        return f"{reason_words(reasons[0])} Tight; best hour: {time}."
    others = held_beside_the_odds(reasons)
    words = f"The slab is made in time, {chances(chance_to_make)}. Go: {time}."
    return words if not others else f"{words} But: {reason_words(others[0])}"


def held_beside_the_odds(reasons: tuple[Reason, ...]) -> tuple[Reason, ...]:
    """The reasons that the chance to make it does not already tell of."""
    return tuple(reason for reason in reasons if reason.code not in ("crew_misses", "no_window"))
