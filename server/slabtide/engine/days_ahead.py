"""Wash, second colour and each coat of sealer in the days ahead: when each may start, and its hours."""

import math
from collections.abc import Mapping, Sequence
from dataclasses import dataclass, replace
from datetime import UTC, datetime, timedelta
from itertools import pairwise

from slabtide.engine.column import slab_column
from slabtide.engine.covers import cover_at, spans_of
from slabtide.engine.drying import Air, Moisture, Wetting, air_between, moisture
from slabtide.engine.evaporation import BAND
from slabtide.engine.forcing import Forcing, hourly_forcing
from slabtide.engine.later import KeptSlot, Later, WorkName
from slabtide.engine.notices import Clock
from slabtide.engine.pour import Pour
from slabtide.engine.runs import Run
from slabtide.engine.slots import Gate, Hour, HoursOut, hours_of, judge
from slabtide.engine.slots_needs import Needs, needs_of
from slabtide.engine.solved import Solved
from slabtide.engine.surface_days import surface_by_hour
from slabtide.engine.timeline import LoadTimeline, Slot

PLANNED_WORK = timedelta(hours=2)  # what a piece of work not yet done is taken to last (EST)
# Summer sun dries the face sooner than what is under it: a night before colour, a day before sealer (common
# practice, no source).
AFTER_WASH_H: Mapping[WorkName, float] = {"colour": 12.0, "seal": 24.0}


@dataclass(frozen=True, slots=True)
class After:
    """The work before this: which, when it was done; or, where it is still to do, when it is taken to end
    (None = no time for it in the days the weather reaches)."""

    work: WorkName
    coat: int
    at: datetime | None
    done: bool


@dataclass(frozen=True, slots=True)
class KeptAhead:
    """The slot somebody kept: what is wrong in its hours, whether the weather reaches its end, and the best
    slot beside it (None = none)."""

    slot: KeptSlot
    out: tuple[HoursOut, ...]
    known: bool
    next_best: Slot | None


@dataclass(frozen=True, slots=True)
class WorkAhead:
    """One piece of work still to do."""

    work: WorkName
    coat: int
    after: After | None
    opens: datetime | None
    shuts: datetime | None
    needs: Needs
    slots: tuple[Slot, ...]
    out: tuple[HoursOut, ...]
    kept: KeptAhead | None


@dataclass(frozen=True, slots=True)
class Drying:
    """The surface now: water it holds [kg/m2], what last wetted it, from when it is dry (early and late by
    the ±40 % of evaporation; None = not within the weather's reach)."""

    water_kg_m2: float
    cause: str
    dry_at: tuple[datetime | None, datetime | None, datetime | None]


@dataclass(frozen=True, slots=True)
class DaysAhead:
    """All later work still to do, in the order of the trade, from one time to another."""

    starts: datetime
    ends: datetime
    works: tuple[WorkAhead, ...]
    drying: Drying


def days_ahead(
    pour: Pour, at: datetime, runs: Sequence[Run], loads: Sequence[LoadTimeline], clock: Clock
) -> DaysAhead:
    """The later work of a pour as seen at a time."""
    scene = _scene(pour, at, runs, clock)
    works = tuple(_Chain(pour, at, loads, scene, clock).works())
    return DaysAhead(
        starts=at.astimezone(UTC),
        ends=clock.at(3600.0 * (len(scene.hours) - 1)),
        works=works,
        drying=_drying(scene, pour.later, at, clock),
    )


@dataclass(frozen=True, slots=True)
class _Scene:
    hours: tuple[Hour, ...]
    airs: tuple[Air, ...]
    placed_s: float
    solved: Solved

    def moisture(self, wettings: Sequence[Wetting], pace: float = 1.0) -> Moisture:
        """What the surface holds, by what wetted it and at a pace of evaporation."""
        return self.solved.of(moisture, self.airs, self.placed_s, tuple(wettings), pace)


def _scene(pour: Pour, at: datetime, runs: Sequence[Run], clock: Clock) -> _Scene:
    hourly = pour.weather.hourly
    forcing = hourly_forcing(hourly, pour.slab.solar_absorptivity, at, 0.0, pour.slab.shade)
    column = slab_column(pour.slab.thickness_m, pour.slab.insulation_r_m2k_w)
    ground_c = pour.slab.ground_temp_c
    surfaces = [run.solved.of(surface_by_hour, run.likely, forcing, column, ground_c) for run in runs]
    together = list(zip(*surfaces, strict=True))
    coolest, warmest = [min(one) for one in together], [max(one) for one in together]
    placed_s = max(clock.seconds(run.load.placed_to) for run in runs)
    airs = _airs(pour, forcing, coolest, clock)
    return _Scene(hours_of(hourly, coolest, warmest), airs, placed_s, runs[0].solved)


def _airs(
    pour: Pour, forcing: Sequence[Forcing], surface_c: Sequence[float], clock: Clock
) -> tuple[Air, ...]:
    spans = [span for load in pour.loads[:1] for span in spans_of(pour.covers, load.id, clock.anchor)]
    airs = []
    for index, (hour, force) in enumerate(zip(pour.weather.hourly, forcing, strict=True)):
        cover = cover_at(spans, 3600.0 * index) if spans else None
        over = None if cover is None else "wet" if cover.kind == "wet" else "dry"
        airs.append(Air(surface_c[index], force.vapour_kpa, force.wind_kmh, hour.rain_mm, over))  # type: ignore[arg-type]
    return tuple(air_between(one, other) for one, other in pairwise(airs))


def _wettings(
    later: Later, at: datetime, clock: Clock, planned_wash: datetime | None = None
) -> list[Wetting]:
    """What is known by `at` to have wetted the surface or proved it dry, and a wash still to come.

    A damp test stands against dry ones elsewhere until a dry one where it was.
    """
    found = [Wetting(clock.seconds(wash), "wash") for wash in later.done.washes if wash <= at]
    damp: set[str | None] = set()
    for test in sorted(later.sheet_tests, key=lambda test: (test.at, not test.dry)):
        if test.at > at:
            continue
        if not test.dry:
            damp.add(test.place)
            found.append(Wetting(clock.seconds(test.at), "sheet"))
            continue
        damp = damp - {test.place} if test.place is not None else set()
        if not damp:
            found.append(Wetting(clock.seconds(test.at), "sheet", dry=True))
    if planned_wash is not None:
        found.append(Wetting(clock.seconds(planned_wash), "wash"))
    return found


def _drying(scene: _Scene, later: Later, at: datetime, clock: Clock) -> Drying:
    last = len(scene.hours) - 1
    index = min(last, max(0, math.floor(clock.seconds(at) / 3600.0)))
    wettings = _wettings(later, at, clock)
    paces = (1.0 + BAND, 1.0, 1.0 - BAND)
    told = [scene.moisture(wettings, pace) for pace in paces]
    dry_s = sorted(one.dry_at_s[index] for one in told)
    dry_at = [None if math.isinf(s) else clock.at(s) for s in dry_s]
    return Drying(told[1].water_kg_m2[index], told[1].cause[index], (dry_at[0], dry_at[1], dry_at[2]))


class _Chain:
    """Work after work, each waiting for the one before."""

    def __init__(
        self, pour: Pour, at: datetime, loads: Sequence[LoadTimeline], scene: _Scene, clock: Clock
    ) -> None:
        self.later, self.at, self.loads = pour.later, at.astimezone(UTC), loads
        self.scene, self.clock = scene, clock
        self.water: dict[datetime | None, Moisture] = {}
        self.found: list[WorkAhead] = []

    def works(self) -> list[WorkAhead]:
        """Every piece of work still to do."""
        done = self.later.done
        washed = self._then("wash", 1, None, max(done.washes, default=None), None)
        wash_at = None if washed.done else washed.at
        coloured = self._then("colour", 1, washed, max(done.colours, default=None), wash_at)
        before = coloured if self._colour_is_meant() else washed
        laid = {coat.coat: coat.at for coat in done.coats}
        most = max(int(needs_of("seal", self.later.products.get("seal")).value("coats") or 1), *laid, 1)
        for coat in range(1, most + 1):
            later_laid = [at for number, at in laid.items() if number >= coat]
            before = self._then("seal", coat, before, laid.get(coat, min(later_laid, default=None)), wash_at)
        return self.found

    def _colour_is_meant(self) -> bool:
        later = self.later
        return bool(later.done.colours or "colour" in later.products) or any(
            kept.work == "colour" for kept in later.kept
        )

    def _then(
        self, work: WorkName, coat: int, before: After | None, done: datetime | None, wash_at: datetime | None
    ) -> After:
        """Note the work unless it is done; what it is to the work after it."""
        if done is not None and done <= self.at:
            return After(work, coat, done.astimezone(UTC), True)
        ahead = self._ahead(work, coat, before, wash_at)
        self.found.append(ahead)
        return After(work, coat, _planned_end(ahead), False)

    def _ahead(self, work: WorkName, coat: int, before: After | None, wash_at: datetime | None) -> WorkAhead:
        needs = needs_of(work, self.later.products.get(work))
        gate, opens = self._gate(needs, coat, before)
        slots, out = judge(self.scene.hours, self._water(wash_at), needs, gate, self.at)
        kept = next((k for k in self.later.kept if (k.work, k.coat) == (work, coat)), None)
        ahead = WorkAhead(
            work, coat, before, opens, gate.shuts[1] if gate.shuts else None, needs, slots, out, None
        )
        return ahead if kept is None else replace(ahead, kept=_watched(kept, ahead, self.scene))

    def _water(self, wash_at: datetime | None) -> Moisture:
        if wash_at not in self.water:
            wettings = _wettings(self.later, self.at, self.clock, wash_at)
            self.water[wash_at] = self.scene.moisture(wettings)
        return self.water[wash_at]

    def _gate(self, needs: Needs, coat: int, before: After | None) -> tuple[Gate, datetime | None]:
        opens: list[tuple[str, datetime | None, str | None]] = [("too_green", self._old_enough(needs), None)]
        shuts = None
        if before is not None:
            at, shuts = before.at, None
            wait_h = self._wait_h(needs, coat, before)
            ready = None if at is None else at + timedelta(hours=wait_h)
            if wait_h > 0.0 and before.done:
                opens.append(("recoat_early", ready, before.work))
            else:
                opens.append(("not_yet", ready, before.work))
            most_h = needs.value("recoat_most_h") if coat > 1 else None
            if most_h is not None and at is not None:
                shuts = ("recoat_late", at + timedelta(hours=most_h))
        times = [at for _, at, _ in opens]
        latest = None if None in times else max(at for at in times if at is not None)
        return Gate(tuple(opens), shuts), latest

    def _wait_h(self, needs: Needs, coat: int, before: After) -> float:
        """Hours to leave after the work before: between coats the sealer's, after colour the colour's, after
        washing what practice leaves, unless a sheet test has shown the surface dry."""
        if coat > 1:
            return needs.value("recoat_least_h") or 0.0
        if before.work == "wash":
            return 0.0 if before.at is not None and self._shown_dry(before.at) else AFTER_WASH_H[needs.work]
        if before.work == "colour":
            return needs_of("colour", self.later.products.get("colour")).value("recoat_least_h") or 0.0
        return 0.0

    def _shown_dry(self, since: datetime) -> bool:
        """Whether the last sheet test after a time, and known by now, was dry."""
        tests = [test for test in self.later.sheet_tests if since < test.at <= self.at]
        return bool(tests) and max(tests, key=lambda test: (test.at, not test.dry)).dry

    def _old_enough(self, needs: Needs) -> datetime | None:
        """When the last load is old enough: by the label's hours, else by its strength and age."""
        limit = needs.limits.get("least_age_h")
        if limit is not None and limit.from_label:
            return self.clock.at(self.scene.placed_s + 3600.0 * limit.value)
        windows = [load.windows[needs.work] for load in self.loads]
        sound = [window.opens.likely for window in windows if window is not None]
        return max(sound) if len(sound) == len(windows) else None


def _planned_end(ahead: WorkAhead) -> datetime | None:
    """When work still to do is taken to end: in the slot that was kept while it holds, else in the best."""
    kept = ahead.kept
    if kept is not None and not kept.out:
        start, end = kept.slot.starts.astimezone(UTC), kept.slot.ends.astimezone(UTC)
    elif ahead.slots:
        start, end = ahead.slots[0].starts, ahead.slots[0].ends
    else:
        return None
    return min(start + PLANNED_WORK, end)


def _watched(kept: KeptSlot, ahead: WorkAhead, scene: _Scene) -> KeptAhead:
    starts, ends = kept.starts.astimezone(UTC), kept.ends.astimezone(UTC)
    out = tuple(run for run in ahead.out if run.starts < ends and run.ends > starts)
    known = ends <= scene.hours[-1].weather.at.astimezone(UTC)
    others = [slot for slot in ahead.slots if slot.ends <= starts or slot.starts >= ends or out]
    return KeptAhead(kept, out, known, others[0] if others else None)


def slots_by_work(works: Sequence[WorkAhead]) -> Mapping[WorkName, tuple[Slot, ...]]:
    """The slots of the next piece of each kind of work; none where all of it is done."""
    found: dict[WorkName, tuple[Slot, ...]] = {"wash": (), "colour": (), "seal": ()}
    for ahead in reversed(works):
        found[ahead.work] = ahead.slots
    return found


__all__ = ["DaysAhead", "Drying", "KeptAhead", "WorkAhead", "days_ahead", "slots_by_work"]
