"""What many closed jobs say together, and when they are too few to say anything. Plain numbers in and out."""

from collections.abc import Callable, Iterable, Mapping, Sequence
from dataclasses import dataclass
from statistics import median
from typing import Any

from slabtide.office.learned.result import MEASURES

FEW_BELOW = 5
"""Fewer pours than this say nothing about the next (EST)."""
MOST_POINTS = 300
_CALLED_BACK_PER = 100


@dataclass(frozen=True, slots=True)
class Seen:
    """A closed job as looking back counts it; `day` is the pour's, where the slab lies."""

    job: str
    name: str
    day: str
    mix: str
    plant: str
    shown: Mapping[str, Any]

    @property
    def named(self) -> dict[str, Any]:
        """What a point in a plot is called by."""
        return {"job": self.job, "name": self.name, "day": self.day}


Value = tuple[Seen, Mapping[str, Any]]


def kept_json(jobs: Sequence[Seen]) -> dict[str, Any]:
    """Predicted against kept, for each measure: all together, by mix, plant and month, and each alone."""
    return {measure: _measure(jobs, measure) for measure in MEASURES}


def pace_json(jobs: Sequence[Seen]) -> dict[str, Any]:
    """Area a person textures in an hour, and minutes a mat took beside those entered."""
    values = [(job, job.shown["pace"]) for job in jobs if job.shown["pace"]]
    names = ("m2_per_person_hour", "lay_minutes", "lay_minutes_entered")
    both = [pace for _, pace in values if pace["lay_minutes"] is not None]
    return {
        **_counts([job for job, _ in values]),
        "m2_per_person_hour": _middle(pace["m2_per_person_hour"] for _, pace in values),
        "lay_minutes": _middle(pace["lay_minutes"] for pace in both),
        "lay_minutes_entered": _middle(pace["lay_minutes_entered"] for pace in both),
        "points": [
            job.named | {name: pace[name] for name in (*names, "people")} for job, pace in _latest(values)
        ],
    }


def callbacks_json(jobs: Sequence[Seen]) -> dict[str, Any]:
    """What people called back about, in all and for each hundred jobs."""
    whats = [called["what"] for job in jobs for called in job.shown["callbacks"]]
    counts = {what: whats.count(what) for what in dict.fromkeys(whats)}
    return {
        "jobs": len(jobs),
        "few": len(jobs) < FEW_BELOW,
        "jobs_called_back": sum(bool(job.shown["callbacks"]) for job in jobs),
        "total": len(whats),
        "per_100": _per_hundred(len(whats), len(jobs)),
        "by_what": [
            {"what": what, "count": count, "per_100": _per_hundred(count, len(jobs))}
            for what, count in sorted(counts.items(), key=lambda pair: (-pair[1], pair[0]))
        ],
    }


def waste_json(jobs: Sequence[Seen]) -> dict[str, Any]:
    """Volume ordered beside that of the slab as drawn."""
    values = [
        (job, volume)
        for job in jobs
        if (volume := job.shown["volume"])["ordered_m3"] and volume["slab_m3"] and volume["placed_m3"]
    ]
    ordered = sum(volume["ordered_m3"] for _, volume in values)
    slab = sum(volume["slab_m3"] for _, volume in values)
    return {
        **_counts([job for job, _ in values]),
        "ordered_m3": round(ordered, 2),
        "slab_m3": round(slab, 2),
        "over_percent": _over(ordered, slab) if values else None,
        "points": [
            {**job.named, **volume, "over_percent": _over(volume["ordered_m3"], volume["slab_m3"])}
            for job, volume in _latest(values)
        ],
    }


def _measure(jobs: Sequence[Seen], measure: str) -> dict[str, Any]:
    values = [(job, one) for job in jobs for one in job.shown["kept"] if one["measure"] == measure]
    return {
        "all": _stat(values),
        "by_mix": _by(values, lambda job: job.mix),
        "by_plant": _by(values, lambda job: job.plant),
        "by_month": _by(values, lambda job: job.day[:7]),
        "points": [
            job.named | {name: one[name] for name in ("load", "error_min", "inside", "afterwards")}
            for job, one in _latest(values)
        ],
    }


def _by(values: Sequence[Value], name_of: Callable[[Seen], str]) -> list[dict[str, Any]]:
    """A line for each name, by name; what has none is left out."""
    groups: dict[str, list[Value]] = {}
    for job, one in values:
        if name := name_of(job):
            groups.setdefault(" ".join(name.split()).casefold(), []).append((job, one))
    return [{"name": name_of(group[-1][0])} | _stat(group) for _, group in sorted(groups.items())]


def _stat(values: Sequence[Value]) -> dict[str, Any]:
    """`low` and `high`: of ten, one lies below and one above."""
    errors = sorted(one["error_min"] for _, one in values)
    return {
        **_counts([job for job, _ in values]),
        "values": len(values),
        "median_min": _middle(errors),
        "low_min": _quantile(errors, 0.1),
        "high_min": _quantile(errors, 0.9),
        "inside": sum(one["inside"] for _, one in values),
        "in_time": sum(error <= 0 for error in errors),
    }


def _counts(jobs: Iterable[Seen]) -> dict[str, Any]:
    pours = len({job.job for job in jobs})
    return {"pours": pours, "few": pours < FEW_BELOW}


def _latest(values: Sequence[Value]) -> Sequence[Value]:
    return sorted(values, key=lambda pair: (pair[0].day, pair[0].job))[-MOST_POINTS:]


def _middle(values: Iterable[float | None]) -> float | None:
    known = [value for value in values if value is not None]
    return round(median(known), 2) if known else None


def _quantile(ordered: Sequence[float], share: float) -> float | None:
    if not ordered:
        return None
    place = share * (len(ordered) - 1)
    low = int(place)
    high = min(low + 1, len(ordered) - 1)
    return round(ordered[low] + (place - low) * (ordered[high] - ordered[low]), 1)


def _per_hundred(count: int, jobs: int) -> float | None:
    return round(_CALLED_BACK_PER * count / jobs, 1) if jobs else None


def _over(volume_m3: float, slab_m3: float) -> float:
    return round(100 * (volume_m3 / slab_m3 - 1), 1)
