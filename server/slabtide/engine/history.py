"""What one load lives through in one branch of the weather: temperatures, ages, water, step by step.

Heat balance: conduction down the column, hydration heat in every node at its own equivalent age; at the
surface sun, sky, wind and the bleed water that evaporates. Second-order implicit steps (BDF2, the first
one backward Euler), the surface exchange made linear about the temperature expected at the step's end.
"""

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, field
from operator import mul

from slabtide.engine.bleeding import DRYING_FOLD_H, REABSORBED_SHARE, Film, bleed_capacity_kg_m2
from slabtide.engine.column import Column, Stepper
from slabtide.engine.covers import CoverSpan, cover_over
from slabtide.engine.exchange import Exchange, bare_exchange, blended, covered_exchange
from slabtide.engine.forcing import Forcing, forcing_between
from slabtide.engine.hydration import hydration_degree, ultimate_hydration, whole_heat_j_m3
from slabtide.engine.ledger import Ledger
from slabtide.engine.maturity import GAS_CONSTANT_J_MOL_K, KELVIN, REFERENCE_C, age_rate
from slabtide.engine.pour import Mix
from slabtide.engine.setting import initial_set_h
from slabtide.engine.surface import surface_rate

HORIZON_S = 120 * 3600
FINE_UNTIL_S = 24 * 3600
_FIRST_S, _FINE_S, _COARSE_S = 60, 300, 900
SPREAD_COARSE_S = 1800  # for histories that only tell how far windows spread
_FIRST_STEPS = 5
_NEAR_K, _MOST_PASSES = 1.0, 4
_TOP_M = 0.040  # the depth a mat works in, which sets the resistance it meets (EST)


@dataclass(frozen=True, slots=True)
class Birth:
    """One load as the column takes it over, halfway through its placing: time [s from the first weather
    hour], hours since batching, temperature [°C], what lies below [°C], thickness [m]."""

    start_s: int
    since_batch_h: float
    concrete_temp_c: float
    ground_temp_c: float
    thickness_m: float
    covers: tuple[CoverSpan, ...] = ()


@dataclass(slots=True, eq=False)
class History:
    """Series over `times_s` [s from the first weather hour]; ages are equivalent hours at 23 °C.

    `surface_age_h` runs on the surface clock, `top_age_h` is the set clock of the top 40 mm, `mean_age_h`
    of the whole depth. `lift_c` is the surface above the mean in the straight line through the depth.
    `loss` is what the surface gives up [kg/m2/h], `demand` what it would if wet (nothing under a cover).
    `film_dry_s` is when evaporation has caught up with bleeding, `dry_since_s` when the sheen is gone.
    It is the same as itself alone, so that what follows from it can be kept by it.
    """

    times_s: list[int] = field(default_factory=list)
    surface_c: list[float] = field(default_factory=list)
    mean_c: list[float] = field(default_factory=list)
    lift_c: list[float] = field(default_factory=list)
    surface_age_h: list[float] = field(default_factory=list)
    top_age_h: list[float] = field(default_factory=list)
    mean_age_h: list[float] = field(default_factory=list)
    loss: list[float] = field(default_factory=list)
    demand: list[float] = field(default_factory=list)
    film_dry_s: float | None = None
    dry_since_s: float | None = None


def follow(
    birth: Birth,
    mix: Mix,
    column: Column,
    hours: Sequence[Forcing],
    ledger: Ledger | None = None,
    coarse_s: int | None = None,
) -> History:
    """The history of one load, to 120 h or as far as the weather reaches.

    birth -- the load as placed
    mix -- the mix; its set factor stretches the heat it gives off
    column -- grid of slab and ground
    hours -- the forcing at each weather hour
    ledger -- books every heat that passes, for those who want to see them add up
    coarse_s -- step after the first day [s], fifteen minutes if not told; a multiple of that

    Source: heat balance as in Bentz, NISTIR 6551 (2000), hydration after Schindler and Folliard (2005).
    """
    life = _Life(birth, mix, column, hours, ledger)
    history = life.run(coarse_s or _COARSE_S)
    if ledger is not None:
        life.close(ledger)
    return history


def felt(birth: Birth, hours: Sequence[Forcing]) -> tuple[Forcing, ...]:
    """The hours that a history gets to feel: with what is told past its end it comes out the same."""
    return tuple(hours[: (birth.start_s + HORIZON_S) // 3600 + 2])


def _spans(horizon_s: int, changes_s: Sequence[int], coarse_s: int) -> Iterator[tuple[int, bool]]:
    """Steps and whether each ends where the history is noted; short ones where a cover comes or goes."""
    passed = 0
    while passed < horizon_s:
        if passed < _FIRST_S * _FIRST_STEPS:
            span = _FIRST_S
        else:
            span = _FINE_S if passed < FINE_UNTIL_S else coarse_s
        if passed + span > horizon_s:
            return
        noted = passed + span >= _FIRST_S * _FIRST_STEPS
        whole = _parted(span, [change - passed for change in changes_s]) if changes_s else span
        parts = max(1, span // whole)
        for part in range(parts):
            yield span // parts, noted and part == parts - 1
        passed += span


def _parted(span: int, changes_s: Sequence[int]) -> int:
    """The length of a step's parts, changes counted from its start: short about a change, then longer."""
    if any(-span < change < span for change in changes_s):
        return _FIRST_S
    return min(span, _FINE_S) if any(-2 * span < change < span for change in changes_s) else span


class _Life:
    """The state carried from step to step."""

    def __init__(
        self, birth: Birth, mix: Mix, column: Column, hours: Sequence[Forcing], ledger: Ledger | None
    ) -> None:
        self.birth, self.mix, self.column, self.hours, self.ledger = birth, mix, column, hours, ledger
        slab, size = column.slab_nodes, len(column.capacity)
        self.now_s = birth.start_s
        self.temps = [birth.concrete_temp_c] * slab + [birth.ground_temp_c] * (size - slab)
        self.before = self.temps
        rate = age_rate(birth.concrete_temp_c, mix.activation_energy_j_mol)
        self.ages = [rate * birth.since_batch_h] * slab
        self.first_age_h = self.ages[0]
        self.paces = [rate] * slab
        self.surface_age = surface_rate(birth.concrete_temp_c) * birth.since_batch_h
        self.cell_m = [share * birth.thickness_m for share in column.share]
        self.top = _top_shares(column)
        self.top_age = self.first_age_h
        self.lever = _levers(column, birth.thickness_m)
        whole = whole_heat_j_m3(mix) * ultimate_hydration(mix.w_cm)
        self.heat_j_m2 = [whole * cell for cell in self.cell_m]
        reached = hydration_degree(self.first_age_h / mix.set_factor, mix) / ultimate_hydration(mix.w_cm)
        self.degrees, self.earlier = [reached] * slab, [reached] * slab  # shares of the ultimate degree
        self.steepness = mix.activation_energy_j_mol / GAS_CONSTANT_J_MOL_K
        self.level = self.steepness / (REFERENCE_C + KELVIN)
        capacity = mix.bleed_share * bleed_capacity_kg_m2(birth.thickness_m)
        self.film = Film(capacity, mix.bleed_share)
        self.drawn_in_h = REABSORBED_SHARE * initial_set_h(mix) * mix.set_factor
        self.dry_since_s: float | None = None
        self.steppers: dict[tuple[int, float], Stepper] = {}
        self.history = History()

    def run(self, coarse_s: int) -> History:
        last_s = (len(self.hours) - 1) * 3600
        horizon_s = min(HORIZON_S, last_s - self.birth.start_s)
        forcing = self._forcing()
        self._note(self._exchange(forcing, self.temps[0], _FIRST_S).demand)
        span_before = 0
        changes = [at - self.birth.start_s for c in self.birth.covers for at in (c.starts_s, c.ends_s)]
        for span, noted in _spans(horizon_s, changes, coarse_s):
            loss = self._step(span, span_before)
            span_before = span
            if noted:
                self._note(loss)
        self.history.film_dry_s, self.history.dry_since_s = self.film.dry_at_s, self.dry_since_s
        return self.history

    def _forcing(self) -> Forcing:
        index = min(self.now_s // 3600, len(self.hours) - 2)
        return forcing_between(self.hours[index], self.hours[index + 1], self.now_s / 3600.0 - index)

    def _step(self, span: int, span_before: int) -> float:
        """Move on by `span` seconds; returns what a wet surface would have lost [kg/m2/h]."""
        ratio = span / span_before if span_before else 0.0
        ahead = min(ratio, 2.0)  # how far the last slope is trusted
        weight = (1.0 + 2.0 * ratio) / (1.0 + ratio)
        of_now, of_before = 1.0 + ratio, ratio * ratio / (1.0 + ratio)
        stepper = self.steppers.get((span, weight))
        if stepper is None:
            stepper = self.steppers[span, weight] = Stepper(self.column, span, weight)
        temps, before = self.temps, self.before
        right = self._loads(stepper.rate, span, ahead, (weight, of_now, of_before))
        self.now_s += span
        expected = temps[0] + ahead * (temps[0] - before[0])
        forcing = self._forcing()
        self.before = temps
        demand = self._solve(stepper, right, forcing, expected, span)
        if self.ledger is not None:
            passed = self._exchange(forcing, self.temps[0], span).flux
            from_ground = self.column.conductance[-1] * (self.birth.ground_temp_c - self.temps[-1])
            self.ledger.surface.book(passed, span, weight, of_before)
            self.ledger.ground.book(from_ground, span, weight, of_before)
        mid_c = (self.temps[0] + temps[0]) / 2.0
        self.surface_age += surface_rate(mid_c) * span / 3600.0
        self._dry(span, demand)
        return demand

    def _solve(
        self, stepper: Stepper, right: list[float], forcing: Forcing, expected: float, span: int
    ) -> float:
        """Temperatures at the step's end; the exchange is made linear anew where it came out far from what
        was expected. Returns what a wet surface would have lost [kg/m2/h]."""
        passed = stepper.eliminate(right, self.birth.ground_temp_c)
        for _ in range(_MOST_PASSES):
            flux, slope, demand = self._exchange(forcing, expected, span)
            surface_c = stepper.surface_c(right[0], passed, flux + slope * expected, slope)
            if abs(surface_c - expected) <= _NEAR_K:
                break
            expected = surface_c
        stepper.fill(right, surface_c)
        self.temps = right
        return demand

    def close(self, ledger: Ledger) -> None:
        """Book what hydration gave, from the ages reached, and what the column holds more than at first."""
        stretched = self.mix.set_factor
        start = hydration_degree(self.first_age_h / stretched, self.mix)
        ends = [hydration_degree(age / stretched, self.mix) for age in self.ages]
        heat = whole_heat_j_m3(self.mix)
        ledger.hydration_j_m2 = heat * sum(
            (end - start) * cell for end, cell in zip(ends, self.cell_m, strict=True)
        )
        slab = self.column.slab_nodes
        first = [self.birth.concrete_temp_c] * slab + [self.birth.ground_temp_c] * len(self.temps[slab:])
        ledger.stored_j_m2 = sum(
            capacity * (now - then)
            for capacity, now, then in zip(self.column.capacity, self.temps, first, strict=True)
        )

    def _loads(
        self, rate: Sequence[float], span: int, ahead: float, weights: tuple[float, float, float]
    ) -> list[float]:
        """The step's right side: heat stored, by C/dt of every node, and what hydration gives off in the
        concrete, whose nodes age over the step.

        The heat is the step's own difference of the degrees reached, so that none is lost however fast they
        rise. The innermost loop of a forecast: `maturity.age_rate` and `hydration_degree` written out."""
        energy, half_h = self.mix.activation_energy_j_mol, span / 7200.0
        temps, before = self.temps, self.before
        level, steepness = self.level, self.steepness
        tau_h, beta = self.mix.tau_h * self.mix.set_factor, self.mix.beta
        of_new, of_now, of_before = weights
        heat_new, heat_now, heat_before = of_new / span, of_now / span, of_before / span
        exp, power = math.exp, math.pow
        right = [
            store * (of_now * now - of_before * past)
            for store, now, past in zip(rate, temps, before, strict=True)
        ]
        ages, paces, degrees, earlier = self.ages, self.paces, self.degrees, self.earlier
        for i, heat in enumerate(self.heat_j_m2):
            now = temps[i]
            temp = now + ahead * (now - before[i])
            pace = exp(level - steepness / (temp + KELVIN)) if temp >= 0.0 else age_rate(temp, energy)
            ages[i] = age = ages[i] + (paces[i] + pace) * half_h
            paces[i] = pace
            degree, degree_now = exp(-power(tau_h / age, beta)), degrees[i]
            right[i] += heat * (heat_new * degree - heat_now * degree_now + heat_before * earlier[i])
            earlier[i], degrees[i] = degree_now, degree
        return right

    def _exchange(self, forcing: Forcing, surface_c: float, span: int) -> Exchange:
        """The surface's exchange over the step that ends now; a cover counts for its share of the step."""
        over = cover_over(self.birth.covers, self.now_s - span, self.now_s) if self.birth.covers else None
        if over is None:
            return bare_exchange(forcing, surface_c, self._wetness())
        cover, share = over
        if cover.kind == "wet" and self.dry_since_s is not None:
            self.dry_since_s = max(self.dry_since_s, min(cover.ends_s, self.now_s))
        covered = covered_exchange(forcing, surface_c, cover)
        if share >= 1.0:
            return covered
        return blended(bare_exchange(forcing, surface_c, self._wetness()), covered, share)

    def _wetness(self) -> float:
        if self.dry_since_s is None:
            return 1.0
        return math.exp((self.dry_since_s - self.now_s) / 3600.0 / DRYING_FOLD_H)

    def _dry(self, span: int, demand: float) -> None:
        """Note when the sheen is gone: evaporated, or drawn back in as the top sets."""
        if self.dry_since_s is not None:
            return
        self.film.pass_time(self.now_s, span, demand)
        before = self.top_age
        self.top_age = sum(map(mul, self.top, self.ages))
        if self.film.dry_at_s is not None:
            self.dry_since_s = self.film.dry_at_s
        elif self.top_age >= self.drawn_in_h:
            gone = max(0.0, self.drawn_in_h - before) / (self.top_age - before)
            self.dry_since_s = self.now_s - span * (1.0 - gone)

    def _note(self, demand: float) -> None:
        h, temps, ages, share = self.history, self.temps, self.ages, self.column.share
        h.times_s.append(self.now_s)
        h.surface_c.append(temps[0])
        h.mean_c.append(sum(map(mul, share, temps)))
        h.lift_c.append(sum(map(mul, self.lever, temps)))
        h.surface_age_h.append(self.surface_age)
        h.top_age_h.append(sum(map(mul, self.top, ages)))
        h.mean_age_h.append(sum(map(mul, share, ages)))
        h.loss.append(demand * self._wetness())
        h.demand.append(demand)


def _top_shares(column: Column) -> list[float]:
    """Weights of the nodes down to 40 mm, adding up to 1."""
    shares = [share for share, depth in zip(column.share, column.depth_m, strict=True) if depth <= _TOP_M]
    return [share / sum(shares) for share in shares]


def _levers(column: Column, thickness_m: float) -> list[float]:
    """Weights that give the surface's rise over the mean in the straight line fitted through the depth."""
    arms = [0.5 - depth / thickness_m for depth in column.depth_m]
    centre = sum(share * arm for share, arm in zip(column.share, arms, strict=True))
    arms = [arm - centre for arm in arms]
    spread = sum(share * arm * arm for share, arm in zip(column.share, arms, strict=True))
    return [share * arm * arms[0] / spread for share, arm in zip(column.share, arms, strict=True)]
