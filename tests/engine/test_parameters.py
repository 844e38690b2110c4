"""What docs/engine.md and docs/odds.md say a parameter is, it is in the code: phrases made from constants."""

from pathlib import Path

import pytest

from slabtide.engine import (
    bleeding,
    column,
    covers,
    crew,
    days_ahead,
    drying,
    ensemble,
    exchange,
    forcing,
    history,
    learning,
    load_state,
    maturity,
    pace_calls,
    prior,
    readings,
    saw,
    saw_practice,
    setting,
    sky,
    spoiling,
    stress,
    surface,
    wind,
    windows,
)
from slabtide.engine.pour import Mix

DOCS = Path(__file__).parents[2] / "docs"
ENGINE, ODDS = ((DOCS / name).read_text(encoding="utf-8") for name in ("engine.md", "odds.md"))
COLUMN = (column.CONCRETE_K_W_M_K, column.CONCRETE_RHO_KG_M3, column.CONCRETE_CP_J_KG_K)
SOIL = (column.SOIL_K_W_M_K, column.SOIL_RHO_KG_M3, column.SOIL_CP_J_KG_K)
AGE, OPENS, CLOSES = windows._LEAST_AGE_H, windows._OPENS, windows._CLOSES_MPA
RAVELS = " / ".join(f"{limit:g}" for limit in saw._RAVELLING_MPA.values())
MIX = Mix()
WORDS = {3: "Three", 5: "five", 6: "six"}
FIRST_MM, WIDEST_MM = 1e3 * column._FIRST_CELL_M, 1e3 * column._WIDEST_CELL_M
SAW_OPENS_H, SAW_CLOSES_H = (told["conventional"] for told in (saw_practice._OPENS_H, saw_practice._CLOSES_H))
FIRM, TOO_FIRM = 100 * load_state.OPEN_READING_SD, 100 * windows._CLOSE_READING_SD
FILM_KG_M2 = drying.FULL_KG_M2 - drying.PORES_KG_M2

IN_ENGINE = (
    f"z₀ {wind.ROUGHNESS_M:g} m",
    f"emissivity {sky.CONCRETE_EMISSIVITY:g}",
    f"air {forcing._AIR_SD_C:g} °C now, {forcing._AIR_SD_C_PER_DAY:g} °C more per day ahead,"
    f" {forcing._AIR_SD_MOST_C:g} °C at most; sun {100 * forcing._SUN_SD:g} %",
    f"both together by {forcing._TOGETHER:g} of that",
    f"cells of {FIRST_MM:g} mm at the surface growing to {WIDEST_MM:g} mm",
    f"{WORDS[len(column._SOIL_CELLS_M)]} soil layers",
    f"contact {column._CONTACT_R_M2K_W:g} m²·K/W",
    f"concrete {COLUMN[0]:g} W/m·K, {COLUMN[1]:g} kg/m³, {COLUMN[2]:g} J/kg·K",
    f"moist soil {SOIL[0]:g}, {SOIL[1]:g}, {SOIL[2]:g}",
    f"e-fold of {bleeding.DRYING_FOLD_H:g} h",
    f"L = {exchange.LATENT_J_KG / 1e6:g} MJ/kg",
    f"{WORDS[history._FIRST_STEPS]} steps of one minute",
    f"`blanket` {covers.DEFAULT_R_M2K_W['blanket']:g}, `wet` {covers.DEFAULT_R_M2K_W['wet']:g},"
    f" `sheet` {covers.DEFAULT_R_M2K_W['sheet']:g}",
    f"T_r = **{maturity.REFERENCE_C:g} °C**",
    f"nothing at −{-maturity._STOPS_AT_C:g} °C",
    f"Default τ {MIX.tau_h:g} h, β {MIX.beta:.2f}, E {MIX.activation_energy_j_mol / 1e3:g} kJ/mol",
    f"E {surface.ACTIVATION_ENERGY_J_MOL / 1e3:g} kJ/mol",
    f"{surface.FOOTPRINT_H:g} h at 23 °C",
    f"α = {setting._INITIAL_PER_W_CM:g} w/cm, final at {setting._FINAL_PER_W_CM:g} w/cm",
    f"top {1e3 * history._TOP_M:g} mm",
    f"{bleeding._RATE_KG_M2_H:g} kg/m²·h up to {100 * bleeding._CAPACITY_SHARE:g} % of the depth",
    f"{bleeding.REABSORBED_SHARE:g} of the way to initial set",
    f"| edge | {OPENS['edge']:g} of the footprint clock, sheen gone (EST) | {CLOSES['edge']:g} MPa",
    f"| mag | {OPENS['mag']:g} of the footprint clock, sheen gone (EST) | {CLOSES['mag']:g} MPa",
    f"| texture | 6 mm footprint, sheen gone | {CLOSES['texture']:.1f} MPa",
    f"| wash | {AGE['wash']:g} h at 23 °C",
    f"| colour | {AGE['colour']:g} h at 23 °C, {windows._DRYING_S['colour'] / 3600:g} h after wash opens",
    f"| seal | {AGE['seal']:g} h at 23 °C, {windows._DRYING_S['seal'] / 3600:g} h after wash opens",
    f"surface under −{-spoiling._FREEZES_C:g} °C before {spoiling.FROST_PROOF_MPA:g} MPa",
    f"**Rain**: {spoiling.RAIN_SPOILS_MM:g} mm or more in an hour",
    f"would lose {spoiling.DRIES_KG_M2_H:g} kg/m²·h for half an hour",
    f"{RAVELS} MPa for soft-rounded / rounded / crushed-soft / crushed-hard",
    f"tension at {saw.STRESS_SHARE:g} of tensile strength (EST; sd of its logarithm {saw.STRESS_SHARE_SD:g}",
    f"equivalent age {saw._LATEST_H['conventional']:g} h (early-entry {saw._LATEST_H['early-entry']:g} h)",
    f"less than {saw._LEAST_SPAN:g} times the opening age",
    f"Relaxation {stress.RELAXATION:g} (EST). Expansion {stress.EXPANSION_PER_K * 1e6:g}e-6/K",
    f"multiplies all but the last by {stress._CORNER:g} (EST)",
    f"{stress._SHRINKAGE_LATE * 1e6:g}e-6 t/({stress._SHRINKAGE_HALF_D:g} + t)",
    f"{SAW_OPENS_H[0]:g} h in hot to {SAW_OPENS_H[1]:g} h in cold",
    f"closes {SAW_CLOSES_H[0]:g} h after placing",
    f"{len(ensemble.MEMBERS)} equal members",
    f'{FIRM:g} % of age) and "too firm" ({TOO_FIRM:g} % of age',
    f"slower by {load_state.SLOW_Z:g} sd",
    f"up to {drying.PORES_KG_M2:.1f} in the pores of the top, {FILM_KG_M2:.1f} more lying",
    f"Dry is {drying.DRY_KG_M2:g} or less",
    f"{drying._SLAB_W_M2_K:g} W/m²·K from the slab",
    f"leave {days_ahead.AFTER_WASH_H['colour']:g} h after a wash before colour and"
    f" {days_ahead.AFTER_WASH_H['seal']:g} h before sealer",
)
IN_ODDS = (
    f"| set factor of the mix, before any check | {100 * MIX.set_factor_sd:g} %;",
    f"{100 * learning._BETWEEN_LOADS_SD:g} % each load's own",
    f"| firm enough, as the crew reads it | {100 * load_state.OPEN_READING_SD:g} % of age |",
    f"| too firm | {100 * windows._CLOSE_READING_SD:g} % of age |",
    f"| share of its strength at which a slab cracks | {100 * saw.STRESS_SHARE_SD:g} % |",
    f"| evaporation, formula and wind together | {100 * windows._EVAPORATION_SD:g} %;",
    f"depth ∝ age^−{surface._DEPTH_POWER:g}",
    f"footprint {100 * readings._DEPTH_SD['footprint']:g} %, thumb {100 * readings._DEPTH_SD['thumb']:g} %",
    f"under {readings._NO_MARK_MM['footprint']:g} mm, {readings._SINKS_MM:g} mm or more",
    f"{readings._NO_MARK_MM['thumb']:g} and {readings._DENTS_MM:g} mm",
    f"keeps {100 * learning._LEAST_SD:g} % of doubt",
    f"{learning._WEATHER_STAYS:g} of it",
    f"correlation of {ensemble.SISTERS_TOGETHER:g}",
    f"{100 * prior.BETWEEN_DAYS_SD:g} % between days and {100 * prior.DRIFT_SD:g} % of drift",
    f"Below {crew.TAMPER_FROM_MPA:g} MPa",
    f"in {crew.BODY_WEIGHT_SHARE:g} of the minutes",
    f"{WORDS[round(crew.MOVE_MINUTES)]} minutes to move",
    f"film of {pace_calls.RELEASE_FILM_KG_M2:g} kg/m²",
    f"release lasts under {pace_calls.RELEASE_SHORT_MIN:g} min",
)


@pytest.mark.parametrize("phrase", IN_ENGINE)
def test_the_engines_page_tells_the_parameters_there_are(phrase: str) -> None:
    assert phrase in ENGINE


@pytest.mark.parametrize("phrase", IN_ODDS)
def test_the_page_of_the_odds_tells_the_parameters_there_are(phrase: str) -> None:
    assert phrase in ODDS
