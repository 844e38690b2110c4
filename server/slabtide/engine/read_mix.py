"""Reading the mix of the `slabtide timeline` input: what the ticket tells, and what is in it."""

from typing import get_args

from slabtide.engine.fields import Fields, Problem
from slabtide.engine.pour import Admixture, AdmixtureType, Aggregate, AshClass, CementType, Mix

_AGGREGATES: tuple[Aggregate, ...] = get_args(Aggregate)
_CEMENTS: tuple[CementType, ...] = get_args(CementType)
_ASHES: tuple[AshClass, ...] = get_args(AshClass)
_ADMIXTURES: tuple[AdmixtureType, ...] = get_args(AdmixtureType)
_MOST_REPLACED = 0.85


def read_mix(data: object, problems: list[Problem]) -> Mix:
    """The mix, every key optional; what is wrong is added to `problems`."""
    plain = Mix()
    f = Fields(data, "mix", problems, tuple(Mix.__dataclass_fields__))

    def number(key: str, low: float, high: float, unit: str = "") -> float:
        return f.number(key, low, high, unit, default=getattr(plain, key))

    mix = Mix(
        cement_kg_m3=number("cement_kg_m3", 150, 600, "kg/m3"),
        w_cm=number("w_cm", 0.25, 0.8),
        design_strength_mpa=number("design_strength_mpa", 10, 80, "MPa"),
        aggregate=f.choice("aggregate", _AGGREGATES, plain.aggregate),
        set_factor=number("set_factor", 0.4, 3),
        set_factor_sd=number("set_factor_sd", 0, 0.6),
        activation_energy_j_mol=number("activation_energy_j_mol", 20_000, 70_000, "J/mol"),
        tau_h=number("tau_h", 4, 60, "h"),
        beta=number("beta", 0.3, 1.5),
        hydration_heat_j_g=number("hydration_heat_j_g", 150, 600, "J/g"),
        cement_type=f.choice("cement_type", _CEMENTS, plain.cement_type),
        fly_ash_fraction=number("fly_ash_fraction", 0, 0.6),
        fly_ash_class=f.choice("fly_ash_class", _ASHES, plain.fly_ash_class),
        slag_fraction=number("slag_fraction", 0, 0.7),
        silica_fume_fraction=number("silica_fume_fraction", 0, 0.15),
        admixtures=read_admixtures(f, problems),
        strength_slowness=number("strength_slowness", 0.5, 3),
        bleed_share=number("bleed_share", 0.05, 4),
    )
    replaced = mix.fly_ash_fraction + mix.slag_fraction + mix.silica_fume_fraction
    if replaced > _MOST_REPLACED:
        f.fail("", f"ash, slag and fume make {replaced:.2f} of the binder", f"0 to {_MOST_REPLACED}")
    return mix


def read_admixtures(f: Fields, problems: list[Problem]) -> tuple[Admixture, ...]:
    """The admixtures of a mix or of one load; none when the key is not there."""
    if not f.has("admixtures"):
        return ()
    return f.items("admixtures", 0, 8, lambda item, path: _admixture(item, path, problems))


def _admixture(data: object, path: str, problems: list[Problem]) -> Admixture:
    f = Fields(data, path, problems, ("type", "dose"))
    return Admixture(f.choice("type", _ADMIXTURES), f.number("dose", 0, 2, "of the usual dose", default=1.0))
