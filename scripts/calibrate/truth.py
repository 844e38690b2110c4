"""What really happened on a scene: its heat solved once, exactly, with its own set factor and weather."""

import math
import random
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta

from scripts.calibrate.scenes import Scene

from slabtide.engine.bleeding import REABSORBED_SHARE
from slabtide.engine.clocks import time_at, value_at
from slabtide.engine.column import slab_column
from slabtide.engine.cracking import cracks_at
from slabtide.engine.crew import TAMPER_FROM_MPA
from slabtide.engine.forcing import hourly_forcing
from slabtide.engine.history import Birth, History, follow
from slabtide.engine.pour import CheckKind, Pour, SurfaceCheck
from slabtide.engine.saw import STRESS_SHARE, STRESS_SHARE_SD, latest_cut_h, ravelling_limit_mpa
from slabtide.engine.setting import TEXTURE_CLOSES_MPA, age_at_penetration_h, final_set_h, initial_set_h
from slabtide.engine.strength import age_at_strength_h
from slabtide.engine.surface import EDGE_SHARE, TEXTURE_SHARE, footprint_age_h

_EDGE_CLOSES_MPA = 0.7
_FIRM_SD, _STIFF_SD = 0.08, 0.045
_SEEN_SD: dict[CheckKind, float] = {"footprint": 0.12, "thumb": 0.18}
_MAT_FIRM_SD, _MAT_STIFF_SD = 0.08, 0.05
# The keys a phone has for a print's depth; the nearest is pressed.
_KEYS_MM: dict[CheckKind, tuple[float, ...]] = {
    "footprint": (0.0, 3.0, 6.0, 13.0, 19.0, 25.0),
    "thumb": (0.0, 2.0, 6.0),
}
CHECKS: tuple[tuple[CheckKind, float], ...] = (  # kind, and share of the way to a footprint when it is made
    ("footprint", 0.86),
    ("thumb", 0.93),
    ("footprint", 1.00),
    ("mat_clean", 1.06),
)


@dataclass(frozen=True, slots=True)
class Truth:
    """What came of one load: history, set factor, the times [s] at which work opened and closed, and
    from when a mat wanted the tamper."""

    history: History
    set_factor: float
    edge: tuple[float, float]
    texture: tuple[float, float]
    saw: tuple[float, float]
    tamper_s: float


def truth_of(scene: Scene, index: int) -> Truth:
    """One load's truth, readings of firm, stiff and cracked drawn from the scene's seed."""
    draw = random.Random(f"truth {scene.seed} {index}")
    pour, factor = scene.pour, scene.factors[index]
    mix = replace(pour.mix, set_factor=factor)
    history = _history(pour, index, factor)
    firm = math.exp(_FIRM_SD * draw.gauss(0.0, 1.0))
    stiff = math.exp(_STIFF_SD * draw.gauss(0.0, 1.0))
    sheen_s = time_at(history.times_s, history.top_age_h, REABSORBED_SHARE * initial_set_h(mix) * factor)
    if history.film_dry_s is not None:
        sheen_s = min(sheen_s, history.film_dry_s)
    earliest = max(sheen_s, _seconds(pour, pour.loads[index].placed_to))

    def surface(share: float, closes_mpa: float) -> tuple[float, float]:
        firm_h = share * footprint_age_h(mix) * factor * firm
        stiff_h = age_at_penetration_h(closes_mpa, initial_set_h(mix), final_set_h(mix)) * factor * stiff
        opens = max(earliest, time_at(history.times_s, history.surface_age_h, firm_h))
        return _kept(opens, time_at(history.times_s, history.top_age_h, stiff_h), history)

    clean_h = age_at_strength_h(ravelling_limit_mpa(mix.aggregate, "conventional"), mix.design_strength_mpa)
    cuts_s = time_at(history.times_s, history.mean_age_h, clean_h * factor * firm)
    tamper_h = age_at_penetration_h(TAMPER_FROM_MPA, initial_set_h(mix), final_set_h(mix))
    share = STRESS_SHARE * math.exp(STRESS_SHARE_SD * draw.gauss(0.0, 1.0))
    latest_h = latest_cut_h("conventional", clean_h) * factor
    closes_s = min(
        cracks_at(history, pour, factor, [share])[0],
        time_at(history.times_s, history.mean_age_h, latest_h),
    )
    return Truth(
        history,
        factor,
        edge=surface(EDGE_SHARE, _EDGE_CLOSES_MPA),
        texture=surface(TEXTURE_SHARE, TEXTURE_CLOSES_MPA),
        saw=_kept(cuts_s, closes_s, history),
        tamper_s=time_at(history.times_s, history.top_age_h, tamper_h * factor * stiff),
    )


def checks_of(scene: Scene, truth: Truth, index: int, count: int) -> tuple[SurfaceCheck, ...]:
    """So many checks on a load as a finisher would make and read them, none before it is struck off."""
    draw = random.Random(f"checks {scene.seed} {index}")
    return tuple(_check(scene, truth, index, *CHECKS[k % len(CHECKS)], draw) for k in range(count))


def _check(
    scene: Scene, truth: Truth, index: int, kind: CheckKind, when: float, draw: random.Random
) -> SurfaceCheck:
    mix, load, h = scene.pour.mix, scene.pour.loads[index], truth.history
    firm_h = footprint_age_h(mix) * truth.set_factor
    # The finisher goes by the usual mix's clock, a tenth of the way off, and knows nothing of the hidden
    # factor: were the hour chosen by that, a late check would in itself tell of a slow mix.
    aimed_h = footprint_age_h(mix) * mix.set_factor * when * math.exp(0.10 * draw.gauss(0.0, 1.0))
    time_s = time_at(h.times_s, h.surface_age_h, aimed_h)
    time_s = float(round(max(time_s, _seconds(scene.pour, load.placed_to))))
    share = value_at(h.times_s, h.surface_age_h, time_s) / firm_h
    at = scene.pour.weather.hourly[0].at + timedelta(seconds=time_s)
    if kind == "mat_clean":
        stiff_h = age_at_penetration_h(TEXTURE_CLOSES_MPA, initial_set_h(mix), final_set_h(mix))
        stiff = value_at(h.times_s, h.top_age_h, time_s) / (stiff_h * truth.set_factor)
        seen = _mat(share, stiff, draw)
        return SurfaceCheck(load.id, at, seen, None)
    read = share * math.exp(_SEEN_SD[kind] * draw.gauss(0.0, 1.0))
    return SurfaceCheck(load.id, at, kind, _told_mm(kind, 6.0 * read**-4.0))


def _told_mm(kind: CheckKind, depth_mm: float) -> float:
    """The key that a finisher presses for a print."""
    return min(_KEYS_MM[kind], key=lambda key_mm: abs(key_mm - depth_mm))


def _mat(firm: float, stiff: float, draw: random.Random) -> CheckKind:
    if firm * math.exp(_MAT_FIRM_SD * draw.gauss(0.0, 1.0)) < 1.0:
        return "mat_sticks"
    refused = stiff * math.exp(_MAT_STIFF_SD * draw.gauss(0.0, 1.0)) > 1.0
    return "mat_refused" if refused else "mat_clean"


def _history(pour: Pour, index: int, factor: float) -> History:
    load, slab = pour.loads[index], pour.slab
    begins, batched = load.placed_from.astimezone(UTC), load.batched_at.astimezone(UTC)
    middle = begins + (load.placed_to - begins) / 2
    birth = Birth(
        start_s=round(_seconds(pour, middle)),
        since_batch_h=(middle - batched).total_seconds() / 3600.0,
        concrete_temp_c=load.concrete_temp_c,
        ground_temp_c=slab.ground_temp_c,
        thickness_m=slab.thickness_m,
    )
    hours = hourly_forcing(pour.weather.hourly, slab.solar_absorptivity, load.batched_at, 0.0)
    column = slab_column(slab.thickness_m, slab.insulation_r_m2k_w)
    return follow(birth, replace(pour.mix, set_factor=factor), column, hours)


def _kept(opens: float, closes: float, history: History) -> tuple[float, float]:
    shut = min(closes, history.times_s[-1])
    return min(opens, shut), shut


def _seconds(pour: Pour, time: datetime) -> float:
    return (time - pour.weather.hourly[0].at).total_seconds()
