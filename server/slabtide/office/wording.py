"""The engine's complaints about its input, in the words of the people who entered it."""

import re
from collections.abc import Sequence

from slabtide.engine.fields import Problem as Complaint
from slabtide.log.model import JobView
from slabtide.weather.contract import Problem

_LOAD = re.compile(r"loads\[(\d+)\](?:\.(\w+))?")
_FIELDS = {
    "batched_at": "batch time",
    "placed_from": "start of placing",
    "placed_to": "end of placing",
    "concrete_temp_c": "concrete temperature",
    "area_m2": "area",
    "admixtures": "admixtures",
}
_PLACES = {
    "slab": ("The slab", "Correct the slab under Lay out."),
    "mix": ("The mix", "Correct the mix under Lay out."),
    "checks": ("A surface check", "Take the check back under Pour."),
    "texturing": ("The crew", "Correct the crew under Lay out."),
    "saw": ("The saw", "Correct the saw under Lay out."),
    "covers": ("A cover", "Take the cover back under Next days."),
    "weather": ("The weather", "Enter low and high for the day of the pour."),
}


def problem_of_contract(complaints: Sequence[Complaint], view: JobView) -> Problem:
    """The first complaint as a problem: which entry, what is wrong with it, where to put it right."""
    first = complaints[0]
    found = _LOAD.match(first.path)
    message = first.message.replace("; allowed: ", "; it should be ")
    if found:
        return _of_load(int(found[1]), found[2] or "", message, view)
    entry = re.split(r"[.\[]", first.path)[0]
    place, do = _PLACES.get(entry, ("What is entered", "Check the slab, the mix and the load times."))
    field = first.path.rpartition(".")[2].replace("_", " ")
    return Problem("input_wrong", f"{place}, {field}: {message}.", do, (("entry", entry),))


def _of_load(index: int, field: str, message: str, view: JobView) -> Problem:
    number = view.loads[index].number if index < len(view.loads) else index + 1
    for name, words in _FIELDS.items():
        message = message.replace(name, words)
    return Problem(
        "load_wrong",
        f"Load {number}, {_FIELDS.get(field, field)}: {message}.",
        f"Correct the ticket and the placing times of load {number}.",
        (("load", number),),
    )
