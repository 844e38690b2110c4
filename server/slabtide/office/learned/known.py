"""What is known of a mix before its next pour, and which of it a job goes by.

The same on the server and on a phone: the standard library and the engine alone.
"""

import math
from collections.abc import Iterable, Mapping
from dataclasses import asdict, dataclass
from typing import Any, Literal

from slabtide.engine.pour import Mix
from slabtide.engine.read_mix import read_mix
from slabtide.engine.recipe import resolved
from slabtide.log.model import JobView

BOOK = (0.0, Mix().set_factor_sd)
"""Mean and sd of the logarithm of the set factor of a mix nobody has poured: as its curve says."""
ANOTHER_PLANT_SD = 0.10  # one recipe out of two plants (EST)
ANOTHER_MIX_SD = 0.14  # one company, two recipes (EST)

Level = Literal["plant", "mix", "company"]
Key = tuple[str, str]


@dataclass(frozen=True, slots=True)
class Known:
    """Of a mix from a plant, from so many pours: mean and sd of the logarithm for the next one.

    An empty `plant` stands for any, an empty `mix` too for all of the company's mixes together.
    """

    mix: str
    plant: str
    pours: int
    mean_log: float
    sd_log: float

    @property
    def key(self) -> Key:
        """What it is found by."""
        return key_of(self.mix, self.plant)


@dataclass(frozen=True, slots=True)
class Prior:
    """What a job goes by. `level`: from pours of its mix from its plant, of its mix, or of any mix."""

    mix: str
    plant: str
    level: Level
    pours: int
    set_factor: float
    set_factor_sd: float

    def as_json(self) -> dict[str, Any]:
        """As a phone is told it."""
        return asdict(self)


def plant_of(view: JobView) -> str | None:
    """The plant as it was entered with the mix, else as the first ticket that names one."""
    named = [load.plant for load in view.loads if load.plant]
    return (view.mix.plant if view.mix else None) or next(iter(named), None)


def key_of(mix: str | None, plant: str | None = None) -> Key:
    """What a mix and a plant are found by: case and spaces make no difference."""
    return _plain(mix), _plain(plant)


def levels(key: Key) -> tuple[tuple[Level, Key], ...]:
    """Where to look for what is known, the nearest first."""
    mix, plant = key
    own: tuple[tuple[Level, Key], ...] = (("plant", key),) if plant else ()
    return (*own, ("mix", (mix, "")), ("company", ("", "")))


def prior_of(known: Iterable[Known], mix: str, plant: str | None) -> Prior | None:
    """The nearest of what is known for a job's mix and plant; None while nothing is.

    What comes from another plant or another mix is surer of nothing than the difference between them.
    """
    found = {one.key: one for one in known if one.pours > 0}
    for level, key in levels(key_of(mix, plant)):
        if one := found.get(key):
            further = {"plant": 0.0, "mix": ANOTHER_PLANT_SD if plant else 0.0, "company": ANOTHER_MIX_SD}
            sd = max(one.sd_log, min(BOOK[1], math.hypot(one.sd_log, further[level])))
            return Prior(mix, plant or "", level, one.pours, round(math.exp(one.mean_log), 4), round(sd, 4))
    return None


def prior_told(told: Mapping[str, Any] | None, view: JobView) -> Prior | None:
    """What a phone goes by: what the server told of the job while its mix is still that one, else the nearest
    of what the company knows.

    told -- {"prior": of the job or None, "mixes": all that is known}
    """
    if told is None or view.mix is None:
        return None
    mix, plant = view.mix.name, plant_of(view)
    own = told.get("prior")
    if own and key_of(own["mix"], own["plant"]) == key_of(mix, plant):
        return Prior(**own)
    return prior_of((Known(**one) for one in told.get("mixes") or ()), mix, plant)


def with_prior(data: dict[str, Any], prior: Prior | None) -> dict[str, Any]:
    """The engine's input with what is known of its mix, unless a set factor was entered."""
    mix = data.get("mix")
    if prior is None or mix is None or "set_factor" in mix:
        return data
    learned = {"set_factor": prior.set_factor, "set_factor_sd": prior.set_factor_sd}
    return data | {"mix": learned | mix}


def began_with(mix: object) -> tuple[float, float]:
    """Mean and sd of the logarithm that the engine begins from, of a mix as it is asked about."""
    read = resolved(read_mix(mix, []) if mix is not None else Mix())
    return math.log(read.set_factor), read.set_factor_sd


def _plain(name: str | None) -> str:
    return " ".join((name or "").split()).casefold()[:80]
