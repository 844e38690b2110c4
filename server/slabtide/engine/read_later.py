"""Reading what the `slabtide timeline` input tells of the days after: all of it optional."""

from collections.abc import Callable
from datetime import UTC, datetime
from typing import TypeVar, get_args

from slabtide.engine.fields import Fields, Problem
from slabtide.engine.later import (
    MOST_COATS,
    Coat,
    Cut,
    CutResult,
    Done,
    KeptSlot,
    Later,
    Product,
    SheetTest,
    TriedCut,
    WorkName,
)

LATER_KEYS = ("products", "done", "sheet_tests", "kept_slots", "cuts", "test_cuts")
WORKS: tuple[WorkName, ...] = get_args(WorkName)
_RESULTS: tuple[CutResult, ...] = get_args(CutResult)
_NOWHEN = datetime(1990, 1, 1, tzinfo=UTC)
_MOST = 200
_LIMITS = {
    "low_c": (-10, 60, "°C"),
    "high_c": (-10, 60, "°C"),
    "over_dew_k": (0, 15, "K"),
    "dry_before_h": (0, 96, "h"),
    "dry_after_h": (0, 96, "h"),
    "wind_most_kmh": (0, 80, "km/h"),
    "least_age_h": (0, 2000, "h"),
    "recoat_least_h": (0, 240, "h"),
    "recoat_most_h": (0, 720, "h"),
    "coverage_m2_per_l": (0.5, 30, "m2/l"),
}
T = TypeVar("T")


def read_later(top: Fields, problems: list[Problem]) -> Later:
    """The optional keys of `LATER_KEYS`; what is wrong is added to `problems`."""

    def rows(key: str, most: int, build: Callable[[object, str], T]) -> tuple[T, ...]:
        return top.items(key, 0, most, build) if top.has(key) else ()

    return Later(
        products=_products(top.values["products"], problems) if top.has("products") else {},
        done=_done(top.values["done"], problems) if top.has("done") else Done(),
        sheet_tests=rows("sheet_tests", _MOST, lambda item, path: _sheet_test(item, path, problems)),
        kept=rows("kept_slots", 12, lambda item, path: _kept(item, path, problems)),
        cuts=rows("cuts", 500, lambda item, path: _cut(item, path, problems)),
        test_cuts=rows("test_cuts", _MOST, lambda item, path: _test_cut(item, path, problems)),
    )


def loads_known(later: Later, seen: set[str], problems: list[Problem]) -> None:
    """Note every load that a cut names and that isn't there, and every cut that stands twice."""
    allowed = "one of " + ", ".join(sorted(seen))
    named = [(f"cuts[{n}].loads", load) for n, cut in enumerate(later.cuts) for load in cut.loads]
    named += [(f"test_cuts[{n}].load", test.load) for n, test in enumerate(later.test_cuts) if test.load]
    for path, load in named:
        if load not in seen:
            problems.append(Problem(path, f"{load!r} is no load here; allowed: {allowed}", allowed))
    known: set[str] = set()
    for index, cut in enumerate(later.cuts):
        if cut.id in known:
            problems.append(Problem(f"cuts[{index}].id", f"{cut.id!r} stands twice", "each id once"))
        known.add(cut.id)


def _products(data: object, problems: list[Problem]) -> dict[WorkName, Product]:
    f = Fields(data, "products", problems, WORKS)
    return {work: _product(f.values[work], f"products.{work}", problems) for work in WORKS if f.has(work)}


def _product(data: object, path: str, problems: list[Problem]) -> Product:
    f = Fields(data, path, problems, tuple(Product.__dataclass_fields__))
    told = {key: f.number(key, *_LIMITS[key]) for key in _LIMITS if f.values.get(key) is not None}
    coats = f.whole("coats", 1, MOST_COATS) if f.values.get("coats") is not None else None
    for low, high in (("low_c", "high_c"), ("recoat_least_h", "recoat_most_h")):
        if low in told and high in told and told[high] < told[low]:
            f.fail(high, f"below {low}", f"{low} or more")
    return Product(**told, coats=coats)


def _done(data: object, problems: list[Problem]) -> Done:
    f = Fields(data, "done", problems, ("washes", "colours", "coats"))
    washes, colours = _times(f, "washes"), _times(f, "colours")
    coats = (
        f.items("coats", 0, _MOST, lambda item, path: _coat(item, path, problems)) if f.has("coats") else ()
    )
    return Done(washes, colours, tuple(sorted(coats, key=lambda coat: coat.at)))


def _times(f: Fields, key: str) -> tuple[datetime, ...]:
    def one(item: object, path: str) -> datetime:
        inner = Fields({"at": item}, path, f.problems, ("at",))
        return inner.time("at") or _NOWHEN

    return tuple(sorted(f.items(key, 0, _MOST, one))) if f.has(key) else ()


def _coat(data: object, path: str, problems: list[Problem]) -> Coat:
    f = Fields(data, path, problems, ("coat", "at"))
    return Coat(f.whole("coat", 1, MOST_COATS), f.time("at") or _NOWHEN)


def _sheet_test(data: object, path: str, problems: list[Problem]) -> SheetTest:
    f = Fields(data, path, problems, ("laid_at", "at", "dry", "place"))
    test = SheetTest(
        laid_at=f.time("laid_at") or _NOWHEN,
        at=f.time("at") or _NOWHEN,
        dry=f.choice("dry", (True, False)),
        place=f.text("place") if f.values.get("place") is not None else None,
    )
    if _NOWHEN not in (test.laid_at, test.at) and test.at < test.laid_at:
        f.fail("at", "before laid_at", "laid_at or later")
    return test


def _kept(data: object, path: str, problems: list[Problem]) -> KeptSlot:
    f = Fields(data, path, problems, ("work", "coat", "from", "to"))
    kept = KeptSlot(
        work=f.choice("work", WORKS),
        coat=f.whole("coat", 1, MOST_COATS),
        starts=f.time("from") or _NOWHEN,
        ends=f.time("to") or _NOWHEN,
    )
    if _NOWHEN not in (kept.starts, kept.ends) and kept.ends <= kept.starts:
        f.fail("to", "not after from", "a time after from")
    return kept


def _cut(data: object, path: str, problems: list[Problem]) -> Cut:
    f = Fields(data, path, problems, ("id", "length_m", "loads", "made_at"))
    return Cut(
        id=f.text("id"),
        length_m=f.number("length_m", 0, 1000, "m"),
        loads=_names(f, "loads"),
        made_at=f.time("made_at") if f.values.get("made_at") is not None else None,
    )


def _names(f: Fields, key: str) -> tuple[str, ...]:
    def one(item: object, path: str) -> str:
        return Fields({"name": item}, path, f.problems, ("name",)).text("name")

    return f.items(key, 0, 50, one) if f.has(key) else ()


def _test_cut(data: object, path: str, problems: list[Problem]) -> TriedCut:
    f = Fields(data, path, problems, ("at", "result", "load"))
    load = f.text("load") if f.values.get("load") is not None else None
    return TriedCut(f.time("at") or _NOWHEN, f.choice("result", _RESULTS), load)
