"""What a job's log says of the days after the pour, as the engine's input takes it."""

from collections.abc import Iterable, Mapping
from typing import Any

from slabtide.engine.slots_needs import LIMIT_NAMES
from slabtide.log.instants import read_instant
from slabtide.log.model import JobView, PlannedCut, Product
from slabtide.office.days.under import loads_under

MOST = 200


def days_json(view: JobView, known: set[str]) -> dict[str, Any]:
    """The keys of the engine's input on washes, coats, products, tests, slots kept and cuts; only those there
    is something to say of.

    known -- ids of the loads the engine is told of
    """
    done = {
        "washes": [wash.at for wash in view.washes][-MOST:],
        "colours": [colour.at for colour in view.colours][-MOST:],
        "coats": [{"coat": coat.coat, "at": coat.at} for coat in view.coats][-MOST:],
    }
    tests = [
        {"laid_at": test.laid_at, "at": test.at, "dry": test.dry} | _place(test.bay)
        for test in view.sheet_tests
        if read_instant(test.laid_at) <= read_instant(test.at)
    ]
    found: dict[str, Any] = {
        "products": {work: limits for work, p in view.products.items() if (limits := _limits(p))},
        "done": {name: rows for name, rows in done.items() if rows},
        "sheet_tests": tests[-MOST:],
        "kept_slots": [
            {"work": kept.work, "coat": kept.coat, "from": kept.from_, "to": kept.to}
            for kept in view.kept_slots
        ],
        "cuts": [_cut(cut, view, known) for cut in view.planned_cuts][:500],
        "test_cuts": [
            {"at": test.at, "result": test.result} | _load(test.load, known) for test in view.test_cuts
        ][-MOST:],
    }
    return {key: value for key, value in found.items() if value}


def _limits(product: Product) -> Mapping[str, float]:
    return {name: value for name in LIMIT_NAMES if (value := getattr(product, name)) is not None}


def _place(bay: str | None) -> dict[str, str]:
    return {} if bay is None else {"place": bay}


def _load(load: str | None, known: Iterable[str]) -> dict[str, str]:
    return {"load": load} if load is not None and load in known else {}


def _cut(cut: PlannedCut, view: JobView, known: set[str]) -> dict[str, Any]:
    named = (cut.load,) if cut.load in known else loads_under(cut.from_, cut.to, view.bays)
    loads = [load for load in named if load in known]
    made = {"made_at": cut.made.at} if cut.made else {}
    return {"id": cut.id, "length_m": round(cut.length_m, 3), "loads": loads} | made
