"""Reading the changes of a what-if: strict JSON, every problem named with its path and what is allowed."""

from collections.abc import Callable
from datetime import datetime, timedelta

from slabtide.engine.changes import (
    CoolerConcrete,
    Hands,
    LoadArea,
    MatCount,
    PourChange,
    Retarder,
    StartShift,
    changed,
)
from slabtide.engine.contract import ContractError
from slabtide.engine.cooling import MOST_ICE_SHARE, weighed_water_kg_m3
from slabtide.engine.fields import Fields, Problem, shown
from slabtide.engine.pour import Load, Pour

_MOST = 20
_LONGEST_SHIFT_MIN = 24 * 60


def read_changes(data: object, pour: Pour, at: datetime) -> tuple[PourChange, ...]:
    """The changes in `data` (parsed JSON, a list), checked against the pour as it stands at a time.

    Raises: ContractError naming every path that is wrong and what is allowed there.
    """
    problems: list[Problem] = []
    if not isinstance(data, list) or not 1 <= len(data) <= _MOST:
        allowed = f"a list of 1 to {_MOST} changes"
        raise ContractError([Problem("changes", f"{shown(data)} is not {allowed}", allowed)])
    reader = _Reader(pour, at, problems)
    changes = [reader.change(item, f"changes[{index}]") for index, item in enumerate(data)]
    if problems:
        raise ContractError(problems)
    sound = tuple(change for change in changes if change is not None)
    _still_covered(changed(pour, at, sound), problems)
    if problems:
        raise ContractError(problems)
    return sound


class _Reader:
    """Reads one change after another against one pour."""

    def __init__(self, pour: Pour, at: datetime, problems: list[Problem]) -> None:
        self.pour, self.at, self.problems = pour, at, problems
        self.kinds: dict[str, tuple[tuple[str, ...], Callable[[Fields], PourChange]]] = {
            "start_shift": (("minutes",), self._start_shift),
            "people": (("people",), self._people),
            "mats": (("mats",), self._mats),
            "retarder": (("load", "type", "dose"), self._retarder),
            "area": (("load", "area_m2"), self._area),
            "cool": (("load", "ice_kg_m3", "water_temp_c"), self._cool),
        }

    def change(self, item: object, path: str) -> PourChange | None:
        every = {key for keys, _ in self.kinds.values() for key in keys}
        name = item.get("change") if isinstance(item, dict) else None
        keys, build = self.kinds.get(str(name), (tuple(every), None))
        f = Fields(item, path, self.problems, ("change", *keys))
        f.choice("change", tuple(self.kinds))
        return build(f) if build else None

    def _start_shift(self, f: Fields) -> PourChange:
        minutes = f.number("minutes", -_LONGEST_SHIFT_MIN, _LONGEST_SHIFT_MIN, "min")
        waiting = [load for load in self.pour.loads if load.placed_from > self.at]
        if not waiting:
            f.fail("minutes", "every load is placed", "a pour with a load still to come")
        least = min((load.batched_at for load in waiting if load.batched_at > self.at), default=None)
        if least is not None and least + timedelta(minutes=minutes) < self.at:
            room = (least - self.at).total_seconds() / 60.0
            f.fail("minutes", f"{minutes:g} would batch a load before now", f"{-room:.0f} or more")
        return StartShift(minutes)

    def _people(self, f: Fields) -> PourChange:
        self._needs_crew(f, "people")
        return Hands(f.whole("people", 1, 50))

    def _mats(self, f: Fields) -> PourChange:
        self._needs_crew(f, "mats")
        return MatCount(f.whole("mats", 1, 200))

    def _needs_crew(self, f: Fields, key: str) -> None:
        if self.pour.texturing is None:
            f.fail(key, "the pour tells of no texturing crew", "a pour with texturing")

    def _retarder(self, f: Fields) -> PourChange:
        self._load(f, "batched", lambda load: load.batched_at > self.at)
        type = f.choice("type", ("B", "D"), default="D")
        return Retarder(
            f.text("load"), "B" if type == "B" else "D", f.number("dose", 0, 2, "of the usual dose")
        )

    def _area(self, f: Fields) -> PourChange:
        self._load(f, "placed", lambda load: load.placed_from > self.at)
        return LoadArea(f.text("load"), f.number("area_m2", 0.1, 1000, "m2"))

    def _cool(self, f: Fields) -> PourChange:
        one = f.values.get("load") is not None
        if one:
            self._load(f, "batched", lambda load: load.batched_at > self.at)
        elif all(load.batched_at <= self.at for load in self.pour.loads):
            f.fail("load", "every load is batched", "a load still to be batched")
        most = MOST_ICE_SHARE * weighed_water_kg_m3(self.pour.mix)
        ice = f.number("ice_kg_m3", 0, int(most), "kg/m3", default=0.0)
        cold = f.values.get("water_temp_c") is not None
        water_c = f.number("water_temp_c", 1, 30, "°C") if cold else None
        if ice == 0.0 and not cold:
            f.fail("", "neither ice nor cold water", "ice_kg_m3, water_temp_c or both")
        return CoolerConcrete(f.text("load") if one else None, ice, water_c)

    def _load(self, f: Fields, past: str, free: Callable[[Load], bool]) -> None:
        """The load named has to be one of the pour, and one that can still be changed so."""
        open_ids = [load.id for load in self.pour.loads if free(load)]
        id = f.values.get("load")
        if isinstance(id, str) and id not in open_ids:
            known = id in [load.id for load in self.pour.loads]
            message = f"{shown(id)} is {past} already" if known else f"{shown(id)} is no load here"
            f.fail("load", message, "one of " + (", ".join(open_ids) or "none, all are " + past))


def _still_covered(pour: Pour, problems: list[Problem]) -> None:
    first, last = pour.weather.hourly[0].at, pour.weather.hourly[-1].at
    begins = min(load.placed_from for load in pour.loads)
    ends = max(load.placed_to for load in pour.loads)
    if begins < first or ends > last:
        allowed = f"placing from {first.isoformat()} to {last.isoformat()}"
        problems.append(
            Problem("changes", f"the weather does not cover the pour so changed; allowed: {allowed}", allowed)
        )
    for load in pour.loads:
        if load.placed_from - load.batched_at > timedelta(hours=6):
            allowed = "placed within 6 h of batching"
            problems.append(
                Problem("changes", f"load {load.id} would wait too long; allowed: {allowed}", allowed)
            )
