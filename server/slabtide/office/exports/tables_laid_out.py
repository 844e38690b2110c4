"""Tables of the slab, the mix and the crew as laid out, what lay over the slab, and loads made one."""

from collections.abc import Sequence

from slabtide.log.model import AdmixtureDose, JobView
from slabtide.office.exports.table import END, People, Rows, Table, load_numbers


def admixtures_cell(rows: Sequence[AdmixtureDose] | None) -> str | None:
    """Admixtures as one cell: `A 1; D 0.5`, the type and its share of the usual dose."""
    return "; ".join(f"{row.type} {row.dose:g}" for row in rows) if rows else None


def _slabs(view: JobView, people: People) -> Rows:
    slab = view.slab
    if slab:
        yield (
            slab.at, slab.area_m2, slab.perimeter_m, slab.thickness_m * 1000, slab.insulation_r_m2k_w,
            slab.ground_temp_c, slab.solar_absorptivity, slab.uncut_length_m, slab.shade, slab.base_friction,
            slab.bonded_share, slab.reentrant_corners, people.get(slab.author), slab.event,
        )  # fmt: skip


def _sides(view: JobView, people: People) -> Rows:
    for side in view.slab.abutting if view.slab else ():
        yield side.edge + 1, side.against, side.bonded


def _mixes(view: JobView, people: People) -> Rows:
    mix = view.mix
    if mix:
        yield (
            mix.at, mix.name, mix.plant, mix.cement_kg_m3, mix.w_cm, mix.design_strength_mpa, mix.aggregate,
            mix.cement_type, mix.fly_ash_fraction, mix.fly_ash_class, mix.slag_fraction,
            mix.silica_fume_fraction, admixtures_cell(mix.admixtures), mix.set_factor, mix.set_factor_sd,
            mix.slump_allowance_mm, mix.drum_limit_min, mix.colour, mix.note, people.get(mix.author),
            mix.event,
        )  # fmt: skip


def _crews(view: JobView, people: People) -> Rows:
    crew = view.crew
    if crew:
        yield (
            crew.at, crew.crew_name, crew.people, crew.mats, crew.mat_area_m2, crew.lay_minutes,
            crew.saw_kind, crew.saw_name, crew.saw_length_m, crew.saw_rate_m_per_min, crew.sprayer_name,
            people.get(crew.lead or ""), people.get(crew.author), crew.event,
        )  # fmt: skip


def _covers(view: JobView, people: People) -> Rows:
    numbers = load_numbers(view)
    for one in view.covers:
        lifted = one.lifted
        yield (
            one.laid.at, lifted.at if lifted else None, one.kind, one.r_m2k_w, numbers.get(one.load),
            people.get(one.laid.author), people.get(lifted.author) if lifted else None, one.laid.event,
        )  # fmt: skip


def _merges(view: JobView, people: People) -> Rows:
    numbers = load_numbers(view)
    for one in view.merged:
        yield one.at, one.load, one.into, numbers.get(one.into), people.get(one.author), one.event


LAID_OUT_TABLES: dict[str, Table] = {
    "slabs": Table(
        ("at", "area_m2", "perimeter_m", "thickness_mm", "insulation_r_m2k_w", "ground_temp_c",
         "solar_absorptivity_0_to_1", "uncut_length_m", "shade_0_to_1", "base_friction", "bonded_0_to_1",
         "inner_corners", *END),
        _slabs,
    ),
    "sides": Table(("side", "against", "bonded"), _sides),
    "mixes": Table(
        ("at", "mix", "plant", "cement_kg_m3", "w_cm", "design_strength_mpa", "aggregate", "cement_type",
         "fly_ash_0_to_1", "fly_ash_class", "slag_0_to_1", "silica_fume_0_to_1", "admixtures_dose",
         "set_factor", "set_factor_sd", "slump_allowance_mm", "drum_limit_min", "colour", "note", *END),
        _mixes,
    ),
    "crews": Table(
        ("at", "crew", "people", "mats", "mat_area_m2", "lay_min", "saw", "saw_name", "saw_length_m",
         "saw_m_per_min", "sprayer", "lead", *END),
        _crews,
    ),
    "covers": Table(
        ("laid_at", "lifted_at", "kind", "r_m2k_w", "load", "by", "lifted_by", "event"), _covers
    ),
    "merges": Table(("at", "double", "kept", "kept_load", *END), _merges),
}  # fmt: skip
