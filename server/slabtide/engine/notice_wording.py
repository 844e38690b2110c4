"""Plain English for notices, by code and parameters; another language needs only another table.

`case` among the parameters picks between words of one code; every table says it the same way.
"""

from collections.abc import Callable, Mapping
from datetime import datetime, tzinfo

from slabtide.engine.timeline import WINDOW_NAMES, Notice, Param
from slabtide.engine.wording import WORK, chances, clock_words, degrees, drop, rain, water_loss

Params = Mapping[str, Param]

_CHECKED: dict[str, str] = {"footprint": "footprint", "thumb": "thumb print"}
_SHEETS = "Sheets on by {at}, held off the surface."
_WHY = {
    "late": "it does not get there in the time the weather covers",
    "frost": "it would freeze first",
    "rain": "it would be rained on while fresh; move the pour, or keep it under cover",
    "drying": "it would dry too fast to work; shade it, break the wind, or pour at a cooler hour",
    "shut": "by the time it may start it is already too late",
}

_WORDS: dict[str, Callable[[Params, str], str]] = {
    "weather_ends": lambda p, at: (
        "The weather ends here; nothing later is worked out. Get a longer forecast before the saw is due."
    ),
    "no_sun_given": lambda p, at: (
        "The weather tells of no sun. In sun the slab runs warmer and sooner than shown."
    ),
    "rain": lambda p, at: (
        f"Rain, {rain(_number(p, 'rain_mm'))}, before the slab has set. Have covers at hand or move the pour."
    ),
    "rain.placed": lambda p, at: (
        f"A little rain, {rain(_number(p, 'rain_mm'))}, before the slab has set. Keep covers at hand."
    ),
    "rain_on_placed.fresh": lambda p, at: (
        f"Rain from {at}, {rain(_number(p, 'rain_mm'))}, on fresh concrete. {_SHEETS.format(at=at)} Work none"
        " of the water in: drag it off, wait for the sheen to go, then test with a boot."
    ),
    "rain_on_placed.texture": lambda p, at: (
        f"Rain from {at}, {rain(_number(p, 'rain_mm'))}, while you texture. {_SHEETS.format(at=at)} Hold the"
        " release and the mats until it has stopped and what stands is off."
    ),
    "rain_on_placed.printed": lambda p, at: (
        f"Rain from {at}, {rain(_number(p, 'rain_mm'))}, on texture that has not set."
        f" {_SHEETS.format(at=at)} Rain pits it and washes the release down."
    ),
    "frost_on_placed.likely": lambda p, at: (
        f"The surface would freeze about {at}, before it can bear it. Blankets on before, edges and corners"
        " double, and leave them on."
    ),
    "frost_on_placed.possible": lambda p, at: (
        f"Should it turn colder, the surface could freeze from {at}, before it can bear it. Have blankets"
        " there, and lay them before dark."
    ),
    "drying_on_placed": lambda p, at: (
        f"From {at} a wet surface loses {water_loss(_number(p, 'evaporation_kg_m2_h'))}: it can crack and"
        " crust while soft. Shade, windbreak and fog now, a sheet wherever nobody works; hold the release."
    ),
    "cold_air": lambda p, at: (
        f"Air below {degrees(_number(p, 'limit_c'))} while the slab is young, down to"
        f" {degrees(_number(p, 'coldest_air_c'))}: covers at hand, no frozen base."
    ),
    "frozen_ground": lambda p, at: "The ground is frozen. Never place on frozen ground.",
    "heat_stress": lambda p, at: _heat(p, "extreme caution"),
    "heat_stress.danger": lambda p, at: _heat(p, "danger"),
    "cold_concrete": lambda p, at: (
        f"Concrete at {degrees(_number(p, 'concrete_temp_c'))}, under {degrees(_number(p, 'limit_c'))}:"
        " slow set."
    ),
    "hot_concrete": lambda p, at: (
        f"Concrete at {degrees(_number(p, 'concrete_temp_c'))}, limit {degrees(_number(p, 'limit_c'))}:"
        " short window."
    ),
    "evaporation_high": lambda p, at: (
        f"A wet surface would lose {water_loss(_number(p, 'evaporation_kg_m2_h'))}. Shade it, break the wind,"
        " fog or cover it."
    ),
    "crusting": lambda p, at: (
        "It dries as fast as it bleeds: no sheen to go by, a skin may form. Test with a boot."
    ),
    "freezing.likely": lambda p, at: (
        "The surface would freeze before it can bear it. Do not pour, or keep it warm under blankets."
    ),
    "freezing.possible": lambda p, at: (
        "The surface could freeze, should it turn colder, before it can bear it. Do not pour, or keep it warm"
        " under blankets."
    ),
    "first_night_drop.too_late": lambda p, at: (
        f"{_night(p, at)} A plain saw is likely too late: early-entry saw, tooled joints, or blankets."
    ),
    "first_night_drop.in_time": lambda p, at: (
        f"{_night(p, at)} Cut as soon as it holds, or lay blankets before it cools."
    ),
    "check_contradicts": lambda p, at: (
        f"This {_CHECKED.get(str(p['kind']), 'mat')} does not fit the mix and the other checks. It counts for"
        " less; check once more."
    ),
    **{f"no_safe_window.{why}": lambda p, at: _no_window(p) for why in _WHY},
    **{f"window_at_risk.{why}": lambda p, at: _at_risk(p) for why in _WHY},
}

CODES: frozenset[str] = frozenset(key.partition(".")[0] for key in _WORDS)
KEYS: frozenset[str] = frozenset(_WORDS)


def told(
    code: str, load: str | None, starts: datetime, ends: datetime, zone: tzinfo, **params: Param
) -> Notice:
    """A notice in words. `params` are what the words of its code ask for."""
    return Notice(code, load, starts, ends, notice_words(code, params, starts, zone), params)


def notice_words(code: str, params: Params, starts: datetime, zone: tzinfo) -> str:
    """One notice as plain English, its time in the pour's zone."""
    case = params.get("case")
    return _WORDS[f"{code}.{case}" if case else code](params, clock_words(starts, zone))


def _number(params: Params, name: str) -> float:
    value = params[name]
    return value if isinstance(value, int | float) else float("nan")


def _names(params: Params) -> tuple[str, ...]:
    value = params["work"]
    return value if isinstance(value, tuple) else ()


def _works(params: Params) -> str:
    return ", ".join(WORK[name] for name in WINDOW_NAMES if name in _names(params))


def _no_window(params: Params) -> str:
    text = f"No safe window for {_works(params)}: {_WHY[str(params['case'])]}."
    return text + " Tool the joints or use an early-entry saw." if "saw" in _names(params) else text


def _at_risk(params: Params) -> str:
    chance = chances(_number(params, "chance"))
    return f"There may be no window for {_works(params)}, {chance}: {_WHY[str(params['case'])]}."


def _heat(params: Params, word: str) -> str:
    felt = degrees(_number(params, "heat_index_c"))
    return f"Feels like {felt} in the shade, {word}; sun adds more. Water, shade, turns."


def _night(params: Params, at: str) -> str:
    return (
        f"First night: the surface falls from {degrees(_number(params, 'peak_c'))} to"
        f" {degrees(_number(params, 'coldest_c'))}; by {at} it is {drop(_number(params, 'drop_k'))} under its"
        " peak. Practice saws before."
    )
