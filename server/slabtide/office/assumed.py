"""What is taken for granted where nothing was entered: by code and numbers, and as an English sentence.

Phones say an assumption by its code in the person's language and units; the sentence is for the board, for
paper and for phones that do not know the code.
"""

from dataclasses import dataclass
from datetime import timedelta
from typing import Any

Params = tuple[tuple[str, float | str], ...]


@dataclass(frozen=True, slots=True)
class Assumption:
    """One assumption. `params` are SI numbers (minutes for spans), or the kind of a cover."""

    code: str
    text: str
    params: Params = ()

    def as_json(self) -> dict[str, Any]:
        """{"code", "params": {name: number or kind}, "text"}."""
        return {"code": self.code, "params": dict(self.params), "text": self.text}


_COVERS = {"blanket": "blanket", "wet": "wet cover", "sheet": "sheet"}


def as_told(assumed: tuple[Assumption, ...]) -> dict[str, list[Any]]:
    """Both forms as answers carry them: `assumptions` the sentences, `assumed` the codes with numbers."""
    return {"assumptions": [one.text for one in assumed], "assumed": [one.as_json() for one in assumed]}


def told_as_kept(kept: list[Any]) -> dict[str, list[Any]]:
    """`as_told` of assumptions kept as JSON; an earlier version kept sentences without a code."""
    return {
        "assumptions": [one if isinstance(one, str) else one["text"] for one in kept],
        "assumed": [one for one in kept if not isinstance(one, str)],
    }


def planned_loads(count: int, apart: timedelta) -> Assumption:
    """Nothing is placed yet: the order's loads, equal and evenly apart."""
    if count == 1:
        return Assumption("planned_one", "Planned: one load.")
    minutes = _minutes(apart)
    said = f"Planned: {count} equal loads, {minutes} min apart."
    return Assumption("planned_loads", said, (("count", count), ("minutes", minutes)))


def loads_to_come(count: int, apart: timedelta) -> Assumption:
    """Some of the order has no ticket yet."""
    minutes = _minutes(apart)
    said = f"Still to come as ordered: {count} equal loads, {minutes} min apart."
    return Assumption("loads_to_come", said, (("count", count), ("minutes", minutes)))


def placing_begins(load: int, haul: timedelta) -> Assumption:
    """A ticketed load that nobody has marked as placed."""
    minutes = _minutes(haul)
    said = f"Load {load}: placing is taken to start {minutes} min after batching."
    return Assumption("placing_begins", said, (("load", load), ("minutes", minutes)))


def batching_of_unticketed(haul: timedelta) -> Assumption:
    """A placement without a ticket."""
    minutes = _minutes(haul)
    said = f"A load without a ticket: batching is taken {minutes} min before placing."
    return Assumption("batching_of_unticketed", said, (("minutes", minutes),))


def concrete_temperature(load: int | None, warmer_k: float) -> Assumption:
    """No reading of the concrete: so much warmer than the air. `load` is None for loads without a ticket."""
    name = f"Load {load}" if load else "Loads without a reading"
    warmer = f"{warmer_k:g} °C ({warmer_k * 1.8:.0f} °F)"
    said = f"{name}: concrete is taken {warmer} warmer than the air at batching."
    if not load:
        return Assumption("concrete_temperature_any", said, (("warmer_k", warmer_k),))
    return Assumption("concrete_temperature", said, (("load", load), ("warmer_k", warmer_k)))


def longest_run(run_m: float) -> Assumption:
    """Nobody has entered the longest run without a joint."""
    said = "Longest run without a joint: the slab's own length, until one is entered."
    return Assumption("longest_run", said, (("run_m", round(run_m, 3)),))


def usual_mix() -> Assumption:
    """Nothing is known of the mix."""
    said = "No mix is entered: a usual 27.6 MPa (4,000 psi) mix is assumed."
    return Assumption("usual_mix", said, (("strength_mpa", 27.6),))


def ticket_admixtures(load: int) -> Assumption:
    """A ticket that lists other admixtures than the mix."""
    said = f"Load {load}: the admixtures on its ticket are used, not the mix's."
    return Assumption("ticket_admixtures", said, (("load", load),))


def water_past_ticket(load: int) -> Assumption:
    """Water past what the ticket allows, which no model here knows."""
    said = f"Load {load}: water added past the ticket is not in its times."
    return Assumption("water_past_ticket", said, (("load", load),))


def cover_left_out(kind: str) -> Assumption:
    """A cover over a load that was taken back."""
    said = f"A {_COVERS[kind]} over a load since taken back is left out."
    return Assumption("cover_left_out", said, (("cover", kind),))


def cover_stays(kind: str) -> Assumption:
    """A cover that nobody has lifted."""
    return Assumption(
        "cover_stays", f"The {_COVERS[kind]} is taken to stay on until it is lifted.", (("cover", kind),)
    )


def _minutes(span: timedelta) -> int:
    return round(span.total_seconds() / 60)
