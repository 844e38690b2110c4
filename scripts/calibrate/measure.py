"""How often the bands hold the truth, and how wide they are, after so many checks."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field, replace

from scripts.calibrate.scenes import Scene
from scripts.calibrate.truth import Truth, checks_of, truth_of

from slabtide.engine.ensemble import quantile
from slabtide.engine.notices import Clock
from slabtide.engine.runs import Run, Seen, taught, unlearned_runs
from slabtide.engine.windows import member_spans

EDGES = ("edge opens", "texture opens", "texture closes", "saw opens", "saw closes")


@dataclass(slots=True)
class Tally:
    """One edge of one window at one number of checks: how many truths, how many inside, how wide [min]."""

    count: int = 0
    in_50: int = 0
    in_80: int = 0
    below: int = 0
    width_80_min: list[float] = field(default_factory=list)

    def note(self, members: Sequence[float], truth: float) -> None:
        """Set a truth beside the members."""
        ordered = sorted(members)
        q = {share: quantile(ordered, share) for share in (0.10, 0.25, 0.50, 0.75, 0.90)}
        self.count += 1
        self.in_50 += q[0.25] <= truth <= q[0.75]
        self.in_80 += q[0.10] <= truth <= q[0.90]
        self.below += truth < q[0.50]
        self.width_80_min.append((q[0.90] - q[0.10]) / 60.0)

    def shares(self) -> tuple[float, float, float]:
        """Shares [0..1] inside 50 and 80 %, and below the middle."""
        return self.in_50 / self.count, self.in_80 / self.count, self.below / self.count

    def width_min(self) -> float:
        """Mean width of the 80 % band [min]."""
        return sum(self.width_80_min) / len(self.width_80_min)


@dataclass(slots=True)
class Result:
    """All edges at one number of checks; checks flagged as contradicting, of all made."""

    tallies: dict[str, Tally]
    flagged: int = 0
    checks: int = 0


def measure(scenes: Sequence[Scene], levels: Sequence[int], of_load: int = 0) -> dict[int, Result]:
    """Every level of checks on every scene.

    of_load -- the load whose windows are looked at; checks are always made on the first
    """
    results = {level: Result({edge: Tally() for edge in EDGES}) for level in levels}
    for scene in scenes:
        truths = [truth_of(scene, k) for k in range(len(scene.pour.loads))]
        for level in levels:
            runs, seen = _forecast(scene, truths[0], level)
            results[level].flagged += len(seen.contradictory)
            results[level].checks += len(seen.checks)
            for edge, members, truth in _edges(runs[of_load], truths[of_load]):
                results[level].tallies[edge].note(members, truth)
    return results


def _forecast(scene: Scene, truth: Truth, level: int) -> tuple[list[Run], Seen]:
    checks = checks_of(scene, truth, 0, level)
    at = max((check.at for check in checks), default=scene.pour.loads[0].batched_at)
    pour = replace(scene.told(at), checks=checks)
    clock = Clock(pour.weather.hourly[0].at)
    return taught(unlearned_runs(pour, at, clock), pour, at, clock)


def _edges(run: Run, truth: Truth) -> Iterator[tuple[str, list[float], float]]:
    spans = member_spans(run.state)
    yield "edge opens", [s[0] for s in spans["edge"]], truth.edge[0]
    yield "texture opens", [s[0] for s in spans["texture"]], truth.texture[0]
    yield "texture closes", [s[1] for s in spans["texture"]], truth.texture[1]
    yield "saw opens", [s[0] for s in spans["saw"]], truth.saw[0]
    yield "saw closes", [s[1] for s in spans["saw"]], truth.saw[1]
