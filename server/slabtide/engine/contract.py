"""The `slabtide timeline` contract: strict JSON data in, JSON-ready data out. No files, no clock."""

from datetime import UTC, datetime, timedelta
from typing import get_args
from zoneinfo import ZoneInfo

from slabtide.engine.answer import write_timeline
from slabtide.engine.fields import Fields, Problem
from slabtide.engine.pour import (
    CheckKind,
    Load,
    Mix,
    Pour,
    Saw,
    SawKind,
    Slab,
    SurfaceCheck,
    Weather,
    WeatherHour,
)
from slabtide.engine.read_covers import read_cover
from slabtide.engine.read_later import LATER_KEYS, loads_known, read_later
from slabtide.engine.read_mix import read_admixtures, read_mix
from slabtide.engine.read_texturing import read_texturing, worked_loads_known

__all__ = ["ContractError", "default_at", "read_pour", "write_timeline"]

_NOWHEN = datetime(1990, 1, 1, tzinfo=UTC)
_KEYS = ("version", "time_zone", "slab", "mix", "loads", "checks", "texturing", "saw", "covers", "weather")
_CHECKS: tuple[CheckKind, ...] = get_args(CheckKind)
_SAWS: tuple[SawKind, ...] = get_args(SawKind)


class ContractError(ValueError):
    """The input can't be used. `problems` holds all that is wrong; `str()` shows one per line."""

    def __init__(self, problems: list[Problem]) -> None:
        self.problems = problems
        super().__init__("\n".join(str(problem) for problem in problems))


def read_pour(data: object) -> Pour:
    """The pour in `data` (parsed JSON), wholly checked.

    Raises: ContractError naming every path that is wrong and what is allowed there.
    """
    problems: list[Problem] = []
    keys = (*_KEYS, *LATER_KEYS)
    top = Fields(data, "", problems, keys)
    top.choice("version", (1,))
    pour = Pour(
        time_zone=_time_zone(top),
        slab=_slab(top.take("slab", "an object"), problems) if top.has("slab") else _missing_slab(top),
        mix=read_mix(top.values["mix"], problems) if top.has("mix") else Mix(),
        loads=top.items("loads", 1, 50, lambda item, path: _load(item, path, problems)),
        checks=top.items("checks", 0, 500, lambda item, path: _check(item, path, problems))
        if top.has("checks")
        else (),
        texturing=read_texturing(top.values["texturing"], problems, _NOWHEN)
        if top.has("texturing")
        else None,
        saw=_saw(top.values["saw"], problems) if top.has("saw") else None,
        covers=top.items("covers", 0, 100, lambda item, path: read_cover(item, path, problems, _NOWHEN))
        if top.has("covers")
        else (),
        later=read_later(top, problems),
        weather=_weather(top, problems),
    )
    if not problems:
        _relations(pour, problems)
    if problems:
        raise ContractError(problems)
    return pour


def default_at(pour: Pour) -> datetime:
    """The time a forecast is made at when nobody says: the last surface check, else the first batch."""
    return max([check.at for check in pour.checks] or [min(load.batched_at for load in pour.loads)])


def _time_zone(top: Fields) -> str:
    allowed = "an IANA time zone, like America/Chicago"
    name = top.take("time_zone", allowed)
    if not top.has("time_zone"):
        return ""
    try:
        return ZoneInfo(name if isinstance(name, str) else "").key
    except (ValueError, OSError, LookupError):  # unknown key, odd path, or no zone data on this machine
        top.fail("time_zone", f"{str(name)[:40]!r} is not a time zone known here", allowed)
        return ""


def _missing_slab(top: Fields) -> Slab:
    top.take("slab", "an object")
    return Slab(0, 0, 0, 0, 0, 0)


def _slab(data: object, problems: list[Problem]) -> Slab:
    f = Fields(data, "slab", problems, tuple(Slab.__dataclass_fields__))
    return Slab(
        area_m2=f.number("area_m2", 0.5, 5000, "m2"),
        thickness_m=f.number("thickness_m", 0.05, 0.6, "m"),
        insulation_r_m2k_w=f.number("insulation_r_m2k_w", 0, 10, "m2·K/W"),
        ground_temp_c=f.number("ground_temp_c", -10, 40, "°C"),
        solar_absorptivity=f.number("solar_absorptivity", 0.1, 1, ""),
        uncut_length_m=f.number("uncut_length_m", 0.5, 100, "m"),
        shade=f.number("shade", 0, 1, "", default=0.0),
        base_friction=f.number("base_friction", 0.1, 5, "", default=1.5),
        neighbours=f.number("neighbours", 0, 1, "", default=0.0),
        reentrant_corners=f.whole("reentrant_corners", 0, 50) if f.has("reentrant_corners") else 0,
    )


def _load(data: object, path: str, problems: list[Problem]) -> Load:
    keys = ("id", "batched_at", "placed_from", "placed_to", "concrete_temp_c", "area_m2", "admixtures")
    f = Fields(data, path, problems, keys)
    load = Load(
        id=f.text("id"),
        batched_at=f.time("batched_at") or _NOWHEN,
        placed_from=f.time("placed_from") or _NOWHEN,
        placed_to=f.time("placed_to") or _NOWHEN,
        concrete_temp_c=f.number("concrete_temp_c", 2, 45, "°C"),
        area_m2=f.number("area_m2", 0.1, 1000, "m2"),
        admixtures=read_admixtures(f, problems),
    )
    if _NOWHEN not in (load.batched_at, load.placed_from, load.placed_to):
        _load_order(f, load)
    return load


def _load_order(f: Fields, load: Load) -> None:
    if load.placed_from < load.batched_at:
        f.fail("placed_from", "before batched_at", "batched_at to 6 h after it")
    elif load.placed_from - load.batched_at > timedelta(hours=6):
        f.fail("placed_from", "more than 6 h after batched_at", "batched_at to 6 h after it")
    if load.placed_to < load.placed_from:
        f.fail("placed_to", "before placed_from", "placed_from to 4 h after it")
    elif load.placed_to - load.placed_from > timedelta(hours=4):
        f.fail("placed_to", "more than 4 h after placed_from", "placed_from to 4 h after it")


def _check(data: object, path: str, problems: list[Problem]) -> SurfaceCheck:
    f = Fields(data, path, problems, ("load", "at", "kind", "depth_mm"))
    kind = f.choice("kind", _CHECKS)
    depth: float | None = None
    if f.values.get("depth_mm") is not None or kind == "footprint":
        depth = f.number("depth_mm", 0, 100, "mm")
    return SurfaceCheck(load=f.text("load"), at=f.time("at") or _NOWHEN, kind=kind, depth_mm=depth)


def _saw(data: object, problems: list[Problem]) -> Saw:
    f = Fields(data, "saw", problems, tuple(Saw.__dataclass_fields__))
    return Saw(
        kind=f.choice("kind", _SAWS),
        length_m=f.number("length_m", 0, 5000, "m"),
        rate_m_per_min=f.number("rate_m_per_min", 0.05, 20, "m/min"),
    )


def _weather(top: Fields, problems: list[Problem]) -> Weather:
    data = top.take("weather", "an object with hourly")
    if not top.has("weather"):
        return Weather(())
    f = Fields(data, "weather", problems, ("hourly",))
    return Weather(f.items("hourly", 2, 24 * 40, lambda item, path: _hour(item, path, problems)))


def _hour(data: object, path: str, problems: list[Problem]) -> WeatherHour:
    f = Fields(data, path, problems, tuple(WeatherHour.__dataclass_fields__))
    return WeatherHour(
        at=f.time("at") or _NOWHEN,
        air_temp_c=f.number("air_temp_c", -40, 55, "°C"),
        rh=f.number("rh", 0, 1, ""),
        wind_kmh=f.number("wind_kmh", 0, 200, "km/h"),
        wind_height_m=f.number("wind_height_m", 0.3, 100, "m", default=10.0),
        cloud=f.number("cloud", 0, 1, "", default=0.0),
        solar_w_m2=f.number("solar_w_m2", 0, 1400, "W/m2", default=0.0),
        rain_mm=f.number("rain_mm", 0, 300, "mm", default=0.0),
        shade=f.number("shade", 0, 1, "") if f.values.get("shade") is not None else None,
    )


def _relations(pour: Pour, problems: list[Problem]) -> None:
    """What only shows once all parts are sound: ids, order, cover."""
    seen: set[str] = set()
    for index, load in enumerate(pour.loads):
        if load.id in seen:
            problems.append(Problem(f"loads[{index}].id", f"{load.id!r} stands twice", "each id once"))
        seen.add(load.id)
    for index, check in enumerate(pour.checks):
        if check.load not in seen:
            allowed = "one of " + ", ".join(sorted(seen))
            message = f"{check.load!r} is no load here; allowed: {allowed}"
            problems.append(Problem(f"checks[{index}].load", message, allowed))
    for index, cover in enumerate(pour.covers):
        if cover.load is not None and cover.load not in seen:
            allowed = "one of " + ", ".join(sorted(seen))
            message = f"{cover.load!r} is no load here; allowed: {allowed}"
            problems.append(Problem(f"covers[{index}].load", message, allowed))
    worked_loads_known(pour, problems)
    loads_known(pour.later, seen, problems)
    _hours_in_order(pour.weather.hourly, problems)
    _cover(pour, problems)


def _hours_in_order(hourly: tuple[WeatherHour, ...], problems: list[Problem]) -> None:
    allowed = "one hour after the entry before it"
    for index in range(1, len(hourly)):
        if hourly[index].at - hourly[index - 1].at != timedelta(hours=1):
            message = f"{hourly[index].at.isoformat()} is not {allowed}"
            problems.append(Problem(f"weather.hourly[{index}].at", message, allowed))
            return


def _cover(pour: Pour, problems: list[Problem]) -> None:
    first, last = pour.weather.hourly[0].at, pour.weather.hourly[-1].at
    begins = min(load.placed_from for load in pour.loads)
    ends = max(load.placed_to for load in pour.loads)
    allowed = f"from {begins.isoformat()} or before, to {ends.isoformat()} or after"
    if first > begins or last < ends:
        message = f"{first.isoformat()} to {last.isoformat()} does not cover the pour; allowed: {allowed}"
        problems.append(Problem("weather.hourly", message, allowed))
    latest = min(load.batched_at for load in pour.loads) + timedelta(hours=48)
    for index, load in enumerate(pour.loads):
        if load.batched_at > latest:
            message = "more than 48 h after the first load"
            problems.append(Problem(f"loads[{index}].batched_at", message, "one pour: within 48 h"))
