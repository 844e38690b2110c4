"""Cooler concrete from the plant: what chilled water or ice takes off the ticket's temperature."""

from slabtide.engine.pour import Mix, Slab
from slabtide.engine.recipe import batch_temp_c

_FRESH_KG_M3 = 2350.0
MOISTURE_SHARE = 0.3  # of all mixing water comes with damp aggregate and can't be chilled (EST)
MOST_ICE_SHARE = 0.75  # of the water that is weighed in: the rest has to melt it in time (ACI 305R [M])


def weighed_water_kg_m3(mix: Mix) -> float:
    """Water the plant weighs into a cubic metre [kg/m3], aggregate's own moisture left out (EST).

    >>> round(weighed_water_kg_m3(Mix()))
    107
    """
    return mix.cement_kg_m3 * mix.w_cm * (1.0 - MOISTURE_SHARE)


def cooled_c(
    concrete_temp_c: float, mix: Mix, slab: Slab, ice_kg_m3: float = 0.0, water_temp_c: float | None = None
) -> float:
    """What the ticket would say [°C] with part of the water as ice, or colder water.

    concrete_temp_c -- the ticket as it stands [°C]
    ice_kg_m3 -- ice in place of as much water [kg/m3], see `MOST_ICE_SHARE`
    water_temp_c -- temperature of the water weighed in [°C]; None = from the main, as the ground (EST)

    The plant's heat balance with and without: what the haul puts back is the same on both sides.

    Source: `recipe.batch_temp_c` (ACI 305R, from memory, not verified).

    >>> slab = Slab(50.0, 0.1, 0.0, 16.0, 0.7, 6.0)
    >>> round(cooled_c(30.0, Mix(), slab, water_temp_c=4.0), 1), round(cooled_c(30.0, Mix(), slab, 40.0), 1)
    (28.0, 24.0)
    """
    weighed = weighed_water_kg_m3(mix)
    main_c = slab.ground_temp_c
    before = _mixed_c(concrete_temp_c, mix, weighed, main_c, 0.0)
    after = _mixed_c(
        concrete_temp_c, mix, weighed, main_c if water_temp_c is None else water_temp_c, ice_kg_m3
    )
    return concrete_temp_c + after - before


def _mixed_c(solids_c: float, mix: Mix, weighed_kg: float, water_c: float, ice_kg: float) -> float:
    """Solids and their moisture at one temperature, weighed water at another, ice for part of it."""
    binder, water = mix.cement_kg_m3, mix.cement_kg_m3 * mix.w_cm
    damp = water - weighed_kg
    poured = weighed_kg - ice_kg
    mean_c = (damp * solids_c + poured * water_c) / (damp + poured)
    aggregate = _FRESH_KG_M3 - binder - water
    return batch_temp_c(binder, solids_c, aggregate, solids_c, damp + poured, mean_c, ice_kg)
