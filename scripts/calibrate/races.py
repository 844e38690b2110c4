"""Whether the chance to miss is one: races told beside races run."""

import random
from collections.abc import Sequence
from dataclasses import dataclass, replace

from scripts.calibrate.scenes import Scene
from scripts.calibrate.truth import Truth, checks_of, truth_of

from slabtide.engine.crew import crew_rate
from slabtide.engine.notices import Clock
from slabtide.engine.pace import pace_of
from slabtide.engine.pour import Texturing
from slabtide.engine.race import Leg, chance_to_miss, run_race
from slabtide.engine.runs import taught, unlearned_runs

BINS = ((0.0, 0.1), (0.1, 0.3), (0.3, 0.5), (0.5, 0.7), (0.7, 0.9), (0.9, 1.01))


@dataclass(frozen=True, slots=True)
class Race:
    """One race: the chance to miss that was told [0..1], and whether it was missed."""

    told: float
    missed: bool


def races(scenes: Sequence[Scene], checks: int) -> list[Race]:
    """Every scene with a crew of its own, so many checks on its first load, and the race then run."""
    return [_race(scene, checks) for scene in scenes]


def reliability(run: Sequence[Race]) -> list[tuple[int, float, float]]:
    """Per bin of the chance told that is not empty: how many races, mean chance told, share missed."""
    rows = []
    for low, high in BINS:
        inside = [race for race in run if low <= race.told < high]
        if inside:
            told = sum(race.told for race in inside) / len(inside)
            rows.append((len(inside), told, sum(race.missed for race in inside) / len(inside)))
    return rows


def _race(scene: Scene, checks: int) -> Race:
    draw = random.Random(f"crew {scene.seed}")
    crew = Texturing(draw.randint(3, 6), draw.randint(6, 14), 0.6, draw.uniform(1.0, 2.0))
    truths = [truth_of(scene, k) for k in range(len(scene.pour.loads))]
    seen = checks_of(scene, truths[0], 0, checks)
    at = max((check.at for check in seen), default=scene.pour.loads[0].batched_at)
    pour = replace(scene.told(at), checks=seen, texturing=crew)
    clock = Clock(pour.weather.hourly[0].at)
    runs, _ = taught(unlearned_runs(pour, at, clock), pour, at, clock)
    told = pace_of(pour, runs, at, clock)
    assert told is not None
    order = [load.id for load in told.loads]
    legs = {load.id: _leg(load.id, load.area_m2, t) for load, t in zip(pour.loads, truths, strict=True)}
    run = run_race([legs[id] for id in order], crew_rate(crew), clock.seconds(told.ready_at))
    return Race(told.chance_to_miss, chance_to_miss(run) > 0.0)


def _leg(id: str, area_m2: float, truth: Truth) -> Leg:
    opens, closes = truth.texture
    return Leg(id, area_m2, [opens], [closes], [truth.tamper_s])
