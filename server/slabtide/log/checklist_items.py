"""The six checklists: their items, what each is counted per, and how done-ness is counted.

Plain data; the phone's copy (`pwa/src/shared/lists.ts`) is generated from it.
"""

from dataclasses import dataclass
from typing import Literal

Per = Literal["job", "bay", "edge"]
Counted = Literal[
    "tick",
    "form_height",
    "form_depth",
    "form_firm",
    "joint_full_depth",
    "joint_continuous",
    "level_shots",
    "fall_away",
    "low_spots",
    "debris_pins",
    "release_laid",
    "touch_up_done",
    "finish_pins",
]

NEEDS: dict[str, float] = {
    "form_points": 4,
    "level_shots": 4,
    "fall_percent": 1,
    "good_fall_percent": 2,
    "low_spot_m": 0.006,
}
"""Points measured on the forms, level shots, least fall [%], low spot [m]: common practice, no source.

Good fall [%]: IRC R401.3 asks 2 % away from the building within 10 ft of a foundation; local codes go first.
"""


@dataclass(frozen=True, slots=True)
class Item:
    """One line of a checklist. `tick` is ticked by hand; the others are counted from what was recorded."""

    slug: str
    per: Per = "job"
    counted: Counted = "tick"


CHECKLISTS: dict[str, tuple[Item, ...]] = {
    "forms": (
        Item("square"),
        Item("stakes"),
        Item("bracing"),
        Item("kickers"),
        Item("top_of_form", counted="form_height"),
        Item("depth_to_base", counted="form_depth"),
        Item("forms_firm", counted="form_firm"),
        Item("form_oil"),
        Item("base_compacted"),
        Item("base_damp"),
        Item("steel_chaired"),
    ),
    "isolation": (
        Item("full_depth", "edge", "joint_full_depth"),
        Item("continuous", "edge", "joint_continuous"),
        Item("strip_top", "edge"),
        Item("no_bridge", "edge"),
        Item("splash_masked", "edge"),
    ),
    "slope": (
        Item("level_shots", counted="level_shots"),
        Item("fall_away", "edge", "fall_away"),
        Item("no_low_spots", counted="low_spots"),
        Item("below_sills"),
        Item("water_way_out"),
    ),
    "debris": (
        Item("overhead"),
        Item("walked", "bay"),
        Item("debris_out", counted="debris_pins"),
    ),
    "release": (
        Item("dust_masks"),
        Item("drift_shielded"),
        Item("laid", "bay", "release_laid"),
        Item("even_cover", "bay"),
        Item("edges_covered", "bay"),
    ),
    "touch_up": (
        Item("mat_lines", "bay"),
        Item("edges_detailed", "bay"),
        Item("pass_done", "bay", "touch_up_done"),
        Item("pins_closed", counted="finish_pins"),
    ),
}
