"""What is in the mix and in each load, as the engine asks for it.

A ticket lists all that is in its load. The engine takes what every load has as the mix's and the rest as the
load's own, so the mix is told with the least of each admixture that any load has.
"""

from collections.abc import Mapping, Sequence
from typing import Any

from slabtide.log.model import AdmixtureDose, JobView, Load, Mix
from slabtide.office.assumed import Assumption, ticket_admixtures, usual_mix, water_past_ticket

_PLAIN = (
    "cement_kg_m3",
    "w_cm",
    "design_strength_mpa",
    "aggregate",
    "set_factor",
    "set_factor_sd",
    "cement_type",
    "fly_ash_fraction",
    "fly_ash_class",
    "slag_fraction",
    "silica_fume_fraction",
)
_MOST_SET_FACTOR_SD = 0.6
_MOST_DOSE = 2.0
Doses = Mapping[str, float]


def mix_json(view: JobView, assumptions: list[Assumption]) -> dict[str, Any] | None:
    """The engine's mix; None where nothing is known of it."""
    common = _common(view)
    if view.mix is None:
        assumptions.append(usual_mix())
        return {"admixtures": _rows(common)} if common else None
    data = _plain(view.mix)
    return data | {"admixtures": _rows(common)} if common else data


def load_admixtures(
    view: JobView, loads: Sequence[str], assumptions: list[Assumption]
) -> dict[str, list[dict[str, Any]]]:
    """What each load has beyond the mix as `mix_json` tells it, by load; loads without are left out.

    loads -- ids of all that are asked about: those without a ticket have what the mix has
    """
    common, of_mix = _common(view), _doses(view.mix.admixtures if view.mix else None)
    told = dict.fromkeys(loads, of_mix) | {load.id: _of_load(load, of_mix) for load in view.loads}
    for load in view.loads:
        if told[load.id] != of_mix:
            assumptions.append(ticket_admixtures(load.number))
    own = {
        load: _rows({kind: dose - common.get(kind, 0.0) for kind, dose in doses.items()})
        for load, doses in told.items()
    }
    return {load: rows for load, rows in own.items() if rows}


def say_water(view: JobView, assumptions: list[Assumption]) -> None:
    """Water past what the ticket allows is not in the models: that is said, not guessed at."""
    for load in view.loads:
        if (load.water_added_l or 0.0) > (load.water_allowed_l or 0.0):
            assumptions.append(water_past_ticket(load.number))


def _plain(mix: Mix) -> dict[str, Any]:
    data = {key: value for key in _PLAIN if (value := getattr(mix, key)) is not None}
    if "set_factor_sd" in data:
        data["set_factor_sd"] = min(data["set_factor_sd"], _MOST_SET_FACTOR_SD)
    return data


def _common(view: JobView) -> Doses:
    """The least of each admixture that any load has; the mix's own while no load is there."""
    of_mix = _doses(view.mix.admixtures if view.mix else None)
    lists = [_of_load(load, of_mix) for load in view.loads]
    lists += [of_mix] if view.unticketed or not lists else []
    kinds = {kind for told in lists for kind in told}
    least = {kind: min(told.get(kind, 0.0) for told in lists) for kind in sorted(kinds)}
    return {kind: dose for kind, dose in least.items() if dose > 0}


def _of_load(load: Load, of_mix: Doses) -> Doses:
    """What a ticket lists; the mix's where it was not read off. An empty list says that none is in it."""
    return of_mix if load.admixtures is None else _doses(load.admixtures)


def _doses(rows: Sequence[AdmixtureDose] | None) -> Doses:
    doses: dict[str, float] = {}
    for row in rows or ():
        doses[row.type] = min(_MOST_DOSE, doses.get(row.type, 0.0) + row.dose)
    return doses


def _rows(doses: Doses) -> list[dict[str, Any]]:
    return [{"type": kind, "dose": round(dose, 4)} for kind, dose in sorted(doses.items()) if dose > 0]
