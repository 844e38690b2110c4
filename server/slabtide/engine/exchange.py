"""What the slab's surface trades with sun, sky, wind and water, bare or under a cover."""

from typing import NamedTuple

from slabtide.engine.covers import CoverSpan
from slabtide.engine.evaporation import evaporation_slope_kg_m2_h_kpa
from slabtide.engine.forcing import Forcing
from slabtide.engine.humidity import saturation_vapour_pressure_kpa
from slabtide.engine.maturity import KELVIN
from slabtide.engine.sky import CONCRETE_EMISSIVITY, STEFAN_BOLTZMANN

LATENT_J_KG = 2.45e6


class Exchange(NamedTuple):
    """Net flux into the surface [W/m2], how it falls per kelvin of surface [W/m2·K], and what a wet surface
    gives up [kg/m2/h]."""

    flux: float
    slope: float
    demand: float


def bare_exchange(forcing: Forcing, surface_c: float, wetness: float) -> Exchange:
    """The exchange of a surface at a temperature [°C], `wetness` of it wet [0..1]. Dew carries no heat.

    Source: Stefan and Boltzmann, McAdams (1954) for the wind, Menzel (1954) for the water.
    """
    gain_w_m2, convection_w_m2_k, air_temp_c, vapour_kpa, wind_kmh = forcing
    kelvin = surface_c + KELVIN
    radiated = CONCRETE_EMISSIVITY * STEFAN_BOLTZMANN * kelvin * kelvin * kelvin
    flux = gain_w_m2 - radiated * kelvin
    flux += convection_w_m2_k * (air_temp_c - surface_c)
    slope = 4.0 * radiated + convection_w_m2_k
    pressure = saturation_vapour_pressure_kpa(surface_c)
    deficit = pressure - vapour_kpa
    if deficit <= 0.0:
        return Exchange(flux, slope, 0.0)
    per_kpa = evaporation_slope_kg_m2_h_kpa(wind_kmh)
    latent = per_kpa * wetness * LATENT_J_KG / 3600.0
    steepness = 4283.8 / (surface_c + 243.04) ** 2  # d ln(es)/dT of the Magnus form
    return Exchange(flux - latent * deficit, slope + latent * pressure * steepness, per_kpa * deficit)


def covered_exchange(forcing: Forcing, surface_c: float, cover: CoverSpan) -> Exchange:
    """The exchange of a surface [°C] under a cover, which has a resistance and no heat of its own.

    The cover's top takes sun, sky and wind as the slab would; a wet cover gives up its own water, so the
    concrete loses none. Source: heat through a resistance in line with the exchange at its top.
    """
    wetness = 1.0 if cover.kind == "wet" else 0.0
    top_c, flux, slope = surface_c, 0.0, 0.0
    for _ in range(3):  # each pass makes the exchange linear about a better top temperature
        told = bare_exchange(forcing, top_c, wetness)
        through = 1.0 + told.slope * cover.r_m2k_w
        flux = (told.flux + told.slope * (top_c - surface_c)) / through
        slope = told.slope / through
        top_c = surface_c + flux * cover.r_m2k_w
    return Exchange(flux, slope, 0.0)


def blended(bare: Exchange, covered: Exchange, share: float) -> Exchange:
    """The exchange over a step that was under a cover for a share [0..1] of its time."""
    rest = 1.0 - share
    return Exchange(
        rest * bare.flux + share * covered.flux,
        rest * bare.slope + share * covered.slope,
        rest * bare.demand + share * covered.demand,
    )
