"""What is in a mix, and what that does to its clocks, its heat and its strength.

`resolved` turns cement type, ash, slag, fume and admixtures into the plain numbers that the models take.
Every figure is a setting (EST) unless it names a source; [M] = from memory, not verified.
"""

import math
from dataclasses import dataclass, replace
from typing import Any, Literal

from slabtide.engine.bleeding import fume_bleed_share
from slabtide.engine.pour import AdmixtureType, CementType, Mix

Pace = Literal["slow", "usual", "fast"]


@dataclass(frozen=True, slots=True)
class Cement:
    """A cement beside Type I/II: how many times later it sets, its heat, how much longer strength takes."""

    sets: float
    heat: float
    strength: float


# Heats: Bogue compounds after Schindler and Folliard (2005) [M]: I 488, II 452, III 486, V 439 J/g; I/II lies
# between. Set of III by the same paper's curve is 0.55; ready-mix practice tells of less, 0.70. Strength: ACI
# 209R-92 Type III and I curves [M]; IL as I/II (common practice, no source).
CEMENTS: dict[CementType, Cement] = {
    "I/II": Cement(1.0, 1.0, 1.0),
    "III": Cement(0.70, 1.03, 0.75),
    "V": Cement(1.05, 0.93, 1.25),
    "IL": Cement(0.97, 1.0, 1.0),
}

# ASTM C494 Table 1 allows, against the same mix without: A, F, S an hour sooner to an hour and a half later;
# B, D, G one to three and a half hours later; C, E one to three and a half hours sooner [M]. The middle of
# each at the usual dose, on the 5.3 h of the default mix.
_INITIAL_H = 5.3
_C494_LATER_H: dict[AdmixtureType, float] = {
    **{"A": 0.25, "F": 0.25, "S": 0.25},
    **{"B": 2.25, "D": 2.25, "G": 2.25},
    **{"C": -2.25, "E": -2.25},
}
# Gebler and Klieger, PCA RD089 (1986) [M]: a quarter of ash moved sets from 4:15 and 5:30 h to 4:40 and 6:15
# (C), 4:50 and 6:45 (F): the mean of both ratios, per unit of ash. Slag: 10 to 20 min per tenth, 23 °C [M].
_ASH_LATER = {"F": 0.73, "C": 0.47}
_SLAG_LATER = 0.47
_ASH_HEAT = {"F": 0.20, "C": 0.70}  # heat of ash over that of cement (EST; by its lime)
_SLAG_HEAT = 461.0 / 470.0  # Schindler and Folliard (2005) [M]
_FUME_HEAT = 0.7  # (EST)
# A mix a quarter ash has about three quarters of the strength at a day; half slag two thirds (EST).
_ASH_STRENGTH = {"F": 1.6, "C": 0.9}
_SLAG_STRENGTH = 1.1
_FUME_STRENGTH = -0.5
_SHIFT_SHARE = 0.6  # a delay by admixture shifts strength, no more: at sawing age this power of its ratio
# ASCC Position Statement 28: delays stack and are "greatly magnified" in the cold; it gives no figure.
_COLD_J_MOL = 12_000.0  # per unit of the logarithm of the delay (EST)
_SLAG_ENERGY = 0.40  # of the activation energy, per unit of slag: Schindler (2004) [M]
_DOUBT = 0.35  # sd of the logarithm of what the recipe does, per unit of it (EST)
_SLOWEST, _FASTEST = 4.0, 0.25
_SPEAKS_AT = 0.08
_MOST_SD = 0.6


def resolved(mix: Mix) -> Mix:
    """The mix in plain numbers: curve, activation energy, heat, strength and doubt moved by what is in it.

    The set factor stays as it is: it is what is learned on top. Resolving twice changes nothing more.

    >>> resolved(Mix()) == Mix()
    True
    """
    ratio = set_ratio(mix)
    plain = replace(
        mix,
        cement_type="I/II",
        fly_ash_fraction=0.0,
        slag_fraction=0.0,
        silica_fume_fraction=0.0,
        admixtures=(),
    )
    if plain == mix:
        return mix
    delay = max(0.0, math.log(ratio))
    energy = mix.activation_energy_j_mol * (1.0 + _SLAG_ENERGY * mix.slag_fraction) + _COLD_J_MOL * delay
    doubt = math.hypot(mix.set_factor_sd, _DOUBT * abs(math.log(ratio))) if mix.set_factor_sd else 0.0
    return replace(
        plain,
        tau_h=mix.tau_h * ratio,
        activation_energy_j_mol=energy,
        hydration_heat_j_g=mix.hydration_heat_j_g * _heat_share(mix),
        strength_slowness=mix.strength_slowness * _strength_ratio(mix),
        set_factor_sd=min(_MOST_SD, doubt),
        bleed_share=mix.bleed_share * fume_bleed_share(mix.silica_fume_fraction),
    )


def set_ratio(mix: Mix) -> float:
    """How many times later the mix sets at 23 °C than the same mix of plain I/II cement, 0.25 to 4.

    >>> round(set_ratio(Mix(fly_ash_fraction=0.25)), 2)
    1.18
    """
    ratio = CEMENTS[mix.cement_type].sets * _admixture_ratio(mix)
    ratio *= 1.0 + _ASH_LATER[mix.fly_ash_class] * mix.fly_ash_fraction + _SLAG_LATER * mix.slag_fraction
    return min(_SLOWEST, max(_FASTEST, ratio))


def mix_pace(mix: Mix) -> tuple[Pace, int]:
    """How the mix sets beside the usual one, from all that is told of it, set factor too: in a word, and by
    how many percent later or sooner, to the nearest five (0 where it is usual).

    >>> mix_pace(Mix(set_factor=1.4)), mix_pace(Mix(cement_type="III"))
    (('slow', 40), ('fast', 30))
    """
    ratio = set_ratio(mix) * mix.set_factor * mix.tau_h / Mix().tau_h
    percent = round(abs(ratio - 1.0) * 20.0) * 5
    if ratio > 1.0 + _SPEAKS_AT:
        return "slow", percent
    return ("fast", percent) if ratio < 1.0 - _SPEAKS_AT else ("usual", 0)


def mix_words(mix: Mix) -> str:
    """The mix's pace as the trade says it.

    >>> mix_words(Mix(set_factor=1.4))
    'Slow mix: sets about 40 % later than the usual mix.'
    """
    pace, percent = mix_pace(mix)
    if pace == "usual":
        return "Usual mix: sets about when most do."
    beside = "later" if pace == "slow" else "sooner"
    return f"{pace.capitalize()} mix: sets about {percent} % {beside} than the usual mix."


def pace_figures() -> dict[str, Any]:
    """The figures of `mix_pace` as plain data: what each cement and each admixture at its usual dose does to
    the set, ash and slag per unit, the limits, and from where on a mix is called slow or fast."""
    return {
        "cement": {kind: cement.sets for kind, cement in CEMENTS.items()},
        "admixture": {kind: 1.0 + later / _INITIAL_H for kind, later in sorted(_C494_LATER_H.items())},
        "ash": dict(_ASH_LATER),
        "slag": _SLAG_LATER,
        "least": _FASTEST,
        "most": _SLOWEST,
        "speaks_at": _SPEAKS_AT,
    }


def batch_temp_c(
    binder_kg: float,
    binder_c: float,
    aggregate_kg: float,
    aggregate_c: float,
    water_kg: float,
    water_c: float,
    ice_kg: float = 0.0,
) -> float:
    """Temperature of concrete as mixed [°C] from masses [kg] and temperatures [°C] of what goes in.

    Source: ACI 305R and 306R, heat balance of mixing, solids at 0.22 of water's heat, ice 79.6 kcal/kg [M].

    >>> round(batch_temp_c(335.0, 25.0, 1800.0, 25.0, 150.0, 5.0), 1)
    20.2
    """
    solids = 0.22 * (binder_kg + aggregate_kg)
    held = 0.22 * (binder_kg * binder_c + aggregate_kg * aggregate_c) + water_kg * water_c - 79.6 * ice_kg
    return held / (solids + water_kg + ice_kg)


def _admixture_ratio(mix: Mix) -> float:
    """Each admixture multiplies by its ratio at the usual dose, to the power of the dose."""
    return math.exp(
        sum(math.log1p(_C494_LATER_H[told.type] / _INITIAL_H) * told.dose for told in mix.admixtures)
    )


def _heat_share(mix: Mix) -> float:
    ash, slag, fume = mix.fly_ash_fraction, mix.slag_fraction, mix.silica_fume_fraction
    cement = 1.0 - ash - slag - fume
    other = ash * _ASH_HEAT[mix.fly_ash_class] + slag * _SLAG_HEAT + fume * _FUME_HEAT
    return cement * CEMENTS[mix.cement_type].heat + other


def _strength_ratio(mix: Mix) -> float:
    shifted = math.pow(_admixture_ratio(mix), _SHIFT_SHARE)
    grown = 1.0 + _ASH_STRENGTH[mix.fly_ash_class] * mix.fly_ash_fraction + _SLAG_STRENGTH * mix.slag_fraction
    grown += _FUME_STRENGTH * mix.silica_fume_fraction
    return CEMENTS[mix.cement_type].strength * grown * shifted
