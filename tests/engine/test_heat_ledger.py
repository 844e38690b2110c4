"""Heat adds up, the steps are of second order, and covers and shade do what they do on site."""

import math
from collections.abc import Callable, Sequence
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import Phase, example, given, settings
from hypothesis import strategies as st
from tests.engine.born import born

import slabtide.engine.history as history_module
from slabtide.engine import Pour
from slabtide.engine.column import slab_column
from slabtide.engine.covers import CoverSpan, cover_at, cover_over
from slabtide.engine.exchange import bare_exchange, covered_exchange
from slabtide.engine.forcing import Forcing, hourly_forcing
from slabtide.engine.history import History, follow
from slabtide.engine.ledger import Ledger
from slabtide.engine.pour import Mix, Weather

MakePour = Callable[..., Pour]
quick = settings(deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])


def lived(pour: Pour, covers: Sequence[CoverSpan] = (), ledger: Ledger | None = None) -> History:
    load = pour.loads[0]
    birth = born(pour, covers)
    slab = pour.slab
    hours = hourly_forcing(
        pour.weather.hourly, slab.solar_absorptivity, load.batched_at, 0.0, shade=slab.shade
    )
    return follow(birth, pour.mix, slab_column(slab.thickness_m, slab.insulation_r_m2k_w), hours, ledger)


weathers: st.SearchStrategy[dict[str, Any]] = st.fixed_dictionaries(
    {
        "air_c": st.floats(-15, 42),
        "swing_c": st.floats(0, 12),
        "rh": st.floats(0, 1),
        "wind_kmh": st.floats(0, 60),
        "sun_w_m2": st.floats(0, 1100),
        "concrete_c": st.floats(2, 45),
        "thickness_m": st.floats(0.05, 0.6),
        "insulation": st.sampled_from([0.0, 0.5, 3.0]),
        "ground_c": st.floats(-10, 40),
        "mix": st.builds(
            Mix,
            cement_kg_m3=st.floats(150, 600),
            set_factor=st.floats(0.4, 3),
            tau_h=st.floats(6, 60),
            beta=st.floats(0.5, 1.5),
        ),
    }
)
spans = st.lists(
    st.builds(
        lambda start, hours, kind, r: CoverSpan(start, start + round(hours * 3600), kind, r),
        st.integers(30_000, 300_000),
        st.floats(0.1, 40),
        st.sampled_from(["blanket", "wet", "sheet"]),
        st.floats(0, 1.5),
    ),
    max_size=3,
)


LATE_WET = CoverSpan(279_248, 393_264, "wet", 0.114)
GALE: dict[str, Any] = {
    **{"air_c": 9.7, "swing_c": 4.8, "rh": 0.32, "wind_kmh": 56.6, "sun_w_m2": 403.0, "concrete_c": 43.5},
    **{"thickness_m": 0.154, "insulation": 0.0, "ground_c": 0.0},
    "mix": Mix(cement_kg_m3=150.0, set_factor=1.745, tau_h=39.6, beta=0.93),
}


@settings(quick, max_examples=60)
@example(scene=GALE, covers=[LATE_WET])
@given(scene=weathers, covers=spans)
def test_the_heat_that_comes_in_is_there_to_a_thousandth(
    make_pour: MakePour, scene: dict[str, Any], covers: list[CoverSpan]
) -> None:
    """Surface, ground and hydration against what the column holds, of all the heat that moved: 0.1 %.

    The surface's heat is that of the full radiation law at the temperature reached, hydration's that of the
    degrees reached, so linearising, stepping and conduction are all under test."""
    ledger = Ledger()
    lived(make_pour(**scene), covers, ledger)
    assert ledger.turnover_j_m2 > 1e5
    assert abs(ledger.gap_j_m2) <= 1e-3 * ledger.turnover_j_m2


def test_a_leak_would_be_seen(make_pour: MakePour, monkeypatch: pytest.MonkeyPatch) -> None:
    """The check above can fail: one part in fifty of the sun not booked."""
    ledger = Ledger()
    real = history_module.bare_exchange
    calls = iter(range(10**9))

    def leaking(forcing: Forcing, surface_c: float, wetness: float) -> Any:
        told = real(forcing, surface_c, wetness)
        return told._replace(flux=told.flux - 0.02 * forcing.gain_w_m2 * (next(calls) % 2))

    monkeypatch.setattr(history_module, "bare_exchange", leaking)
    lived(make_pour(sun_w_m2=800.0), (), ledger)
    assert abs(ledger.gap_j_m2) > 1e-3 * ledger.turnover_j_m2


def order_of(make_pour: MakePour, monkeypatch: pytest.MonkeyPatch, scene: dict[str, Any]) -> float:
    """Order of convergence over steps of 300, 150 and 75 s, against steps of 15 s."""
    # Plenty of bleed water: whether evaporation just catches up with it or not would hang on the step.
    pour = make_pour(hours=36, mix=Mix(bleed_share=4.0), **scene)

    def at_span(span: int) -> dict[int, float]:
        for name, length in (("_FIRST_S", span // 5), ("_FINE_S", span), ("_COARSE_S", span)):
            monkeypatch.setattr(history_module, name, length)
        history = lived(pour)
        return dict(zip(history.times_s, history.mean_c, strict=True))

    truth = at_span(15)
    errors = []
    for span in (300, 150, 75):
        ours = at_span(span)
        shared = [time for time in ours if time in truth]
        late = shared[len(shared) // 10 :]
        errors.append(math.sqrt(sum((ours[t] - truth[t]) ** 2 for t in late) / len(late)))
    return math.log2(errors[0] / errors[2]) / 2.0


@pytest.mark.parametrize(
    "scene", [{"sun_w_m2": 900.0, "concrete_c": 30.0}, {"insulation": 0.0, "air_c": 8.0}]
)
def test_halving_the_step_quarters_the_error(
    make_pour: MakePour, monkeypatch: pytest.MonkeyPatch, scene: dict[str, Any]
) -> None:
    """Second order in time, over the whole balance: measured order 1.8 to 2.3."""
    assert 1.8 <= order_of(make_pour, monkeypatch, scene) <= 2.3


def test_splitting_every_step_changes_nothing_that_matters(
    make_pour: MakePour, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Within 0.05 K and three thousandths of age, under a blanket at night too."""
    pour, cover = make_pour(sun_w_m2=900.0), CoverSpan(90_000, 130_000, "blanket", 0.5)
    plain = lived(pour, [cover])
    for name, span in (("_FIRST_S", 20), ("_FINE_S", 100), ("_COARSE_S", 300)):
        monkeypatch.setattr(history_module, name, span)
    monkeypatch.setattr(history_module, "_FIRST_STEPS", 15)
    split = lived(pour, [cover])
    mean = dict(zip(split.times_s, split.mean_c, strict=True))
    off = [abs(value - mean[t]) for t, value in zip(plain.times_s, plain.mean_c, strict=True) if t in mean]
    assert len(off) > 500
    assert max(off) < 0.05
    assert plain.mean_age_h[-1] == pytest.approx(split.mean_age_h[-1], rel=0.003)


NIGHT = (15 * 3600, 32 * 3600)  # from three in the afternoon to eight in the morning after


def night_low_c(history: History) -> float:
    return min(
        surface
        for time, surface in zip(history.times_s, history.surface_c, strict=True)
        if NIGHT[0] + 3600 < time < NIGHT[1]
    )


def test_the_thicker_the_blanket_the_warmer_the_night(make_pour: MakePour) -> None:
    pour = make_pour(air_c=8.0, swing_c=6.0)
    lows = [night_low_c(lived(pour))] + [
        night_low_c(lived(pour, [CoverSpan(*NIGHT, "blanket", r)])) for r in (0.1, 0.5, 1.5)
    ]
    assert lows == sorted(lows)
    assert lows[2] - lows[0] > 3.0


def test_a_sheet_keeps_the_water_in(make_pour: MakePour) -> None:
    pour = make_pour(wind_kmh=25.0, rh=0.3)
    sheet = lived(pour, [CoverSpan(*NIGHT, "sheet", 0.02)])
    under = [
        (loss, demand)
        for time, loss, demand in zip(sheet.times_s, sheet.loss, sheet.demand, strict=True)
        if NIGHT[0] + 900 < time < NIGHT[1]
    ]
    assert set(under) == {(0.0, 0.0)}


def test_wet_curing_cools_a_slab_in_the_sun_and_leaves_it_wet(make_pour: MakePour) -> None:
    pour = make_pour(air_c=30.0, sun_w_m2=900.0, rh=0.4)
    day = (33 * 3600, 40 * 3600)
    bare, wet = lived(pour), lived(pour, [CoverSpan(*day, "wet", 0.02)])
    noon = bare.times_s.index(next(t for t in bare.times_s if t >= 37 * 3600))
    assert bare.surface_c[noon] - wet.surface_c[noon] > 5.0
    after = next(i for i, t in enumerate(bare.times_s) if t > day[1] + 900)
    assert wet.loss[after] > 5 * bare.loss[after]


@pytest.mark.parametrize("shade", [0.3, 0.6, 1.0])
def test_shade_keeps_a_slab_cooler_by_day(make_pour: MakePour, shade: float) -> None:
    sunny = make_pour(sun_w_m2=900.0)
    shaded = replace(sunny, slab=replace(sunny.slab, shade=shade))
    told = [replace(hour, shade=shade) for hour in sunny.weather.hourly]
    hourly = replace(sunny, weather=Weather(tuple(told)))
    assert max(lived(shaded).surface_c) < max(lived(sunny).surface_c) - 10 * shade
    assert lived(shaded).surface_c == lived(hourly).surface_c


def test_a_cover_without_resistance_is_no_insulation() -> None:
    forcing = Forcing(700.0, 15.0, 20.0, 1.2, 10.0)
    bare, under = (
        bare_exchange(forcing, 28.0, 0.0),
        covered_exchange(forcing, 28.0, CoverSpan(0, 9, "sheet", 0.0)),
    )
    assert under.flux == pytest.approx(bare.flux)
    assert under.slope == pytest.approx(bare.slope)


@given(r=st.floats(0.01, 4), surface_c=st.floats(-10, 60), gain=st.floats(150, 1200), air=st.floats(-20, 40))
def test_the_flux_through_a_cover_is_that_at_its_top(
    r: float, surface_c: float, gain: float, air: float
) -> None:
    """What passes the resistance is what sky and air give its top: within 1 W/m2."""
    forcing = Forcing(gain, 12.0, air, 0.5, 10.0)
    told = covered_exchange(forcing, surface_c, CoverSpan(0, 9, "blanket", r))
    at_top = bare_exchange(forcing, surface_c + told.flux * r, 0.0)
    assert told.flux == pytest.approx(at_top.flux, abs=1.0)


def test_layers_add_and_a_blanket_over_wet_burlap_keeps_its_water() -> None:
    wet, blanket = CoverSpan(0, 100, "wet", 0.02), CoverSpan(50, 200, "blanket", 0.5)
    both = cover_at([wet, blanket], 60)
    assert both is not None
    assert (both.kind, both.r_m2k_w) == ("blanket", pytest.approx(0.52))
    assert cover_at([wet, blanket], 10) == wet
    assert cover_at([wet, blanket], 250) is None


@pytest.mark.parametrize(("to_s", "share"), [(5, None), (20, 0.5), (30, 2 / 3), (15, 1 / 3)])
def test_a_cover_counts_for_its_share_of_a_step(to_s: int, share: float | None) -> None:
    over = cover_over([CoverSpan(10, 90, "sheet", 0.02)], 0, to_s)
    assert (over and over[1]) == (share and pytest.approx(share))
