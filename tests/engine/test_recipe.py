"""What is in a mix moves its clocks, heat and strength the way the trade knows, and never jumps back."""

from collections.abc import Callable
from dataclasses import replace
from typing import Any

import pytest
from hypothesis import Phase, assume, given, settings
from hypothesis import strategies as st

from slabtide.engine import Pour, forecast
from slabtide.engine.contract import ContractError, read_pour
from slabtide.engine.maturity import age_rate
from slabtide.engine.pour import Admixture, Mix
from slabtide.engine.recipe import batch_temp_c, mix_words, resolved, set_ratio
from slabtide.engine.setting import initial_set_h
from slabtide.engine.timeline import LoadTimeline

MakePour = Callable[..., Pour]
quick = settings(deadline=None, phases=[Phase.explicit, Phase.reuse, Phase.generate])
recipes = st.builds(
    Mix,
    set_factor=st.floats(0.4, 3),
    cement_type=st.sampled_from(["I/II", "III", "V", "IL"]),
    fly_ash_fraction=st.floats(0, 0.35),
    fly_ash_class=st.sampled_from(["F", "C"]),
    slag_fraction=st.floats(0, 0.35),
    silica_fume_fraction=st.floats(0, 0.15),
    admixtures=st.lists(
        st.builds(Admixture, st.sampled_from(["A", "B", "C", "D", "E", "F", "G", "S"]), st.floats(0, 2)),
        max_size=3,
    ).map(tuple),
)


def set_h(mix: Mix, temp_c: float = 23.0) -> float:
    plain = resolved(mix)
    return initial_set_h(plain) * plain.set_factor / age_rate(temp_c, plain.activation_energy_j_mol)


def first(pour: Pour) -> LoadTimeline:
    return forecast(pour, pour.loads[0].batched_at).loads[0]


@given(mix=recipes)
def test_resolving_twice_is_resolving_once(mix: Mix) -> None:
    once = resolved(mix)
    assert resolved(once) == once
    assert once.set_factor == mix.set_factor


@given(mix=recipes, more=st.floats(0.05, 1), temp_c=st.floats(2, 45))
@pytest.mark.parametrize("kind", ["B", "D", "G"])
def test_more_retarder_never_sets_sooner(kind: Any, mix: Mix, more: float, temp_c: float) -> None:
    some = replace(mix, admixtures=(Admixture(kind, 0.5),))
    extra = replace(mix, admixtures=(Admixture(kind, 0.5 + more),))
    assert set_h(extra, temp_c) >= set_h(some, temp_c) or set_ratio(extra) == 4.0


@given(mix=recipes, more=st.floats(0.05, 1), temp_c=st.floats(2, 45))
@pytest.mark.parametrize("kind", ["C", "E"])
def test_more_accelerator_never_sets_later(kind: Any, mix: Mix, more: float, temp_c: float) -> None:
    some = replace(mix, admixtures=(Admixture(kind, 0.5),))
    extra = replace(mix, admixtures=(Admixture(kind, 0.5 + more),))
    assert set_h(extra, temp_c) <= set_h(some, temp_c) + 1e-9


@given(mix=recipes, more=st.floats(0.01, 0.2), temp_c=st.floats(2, 35))
@pytest.mark.parametrize("key", ["fly_ash_fraction", "slag_fraction"])
def test_more_ash_or_slag_never_sets_sooner(key: str, mix: Mix, more: float, temp_c: float) -> None:
    extra = replace(mix, **{key: getattr(mix, key) + more})
    assume(set_ratio(mix) > 0.25 and set_ratio(extra) < 4.0)  # past these nothing more is believed
    assert set_h(extra, temp_c) >= set_h(mix, temp_c) - 1e-9
    assert resolved(extra).strength_slowness >= resolved(mix).strength_slowness
    if key == "fly_ash_fraction":  # slag gives as much heat as a cool cement
        assert resolved(extra).hydration_heat_j_g <= resolved(mix).hydration_heat_j_g + 1e-9


def test_delays_stack_and_grow_in_the_cold() -> None:
    """Source: ASCC Position Statement 28: high ash, water reducer and stabiliser stack, "greatly magnified"
    at concrete of 60 °F and below; it gives no figure."""
    stacked = Mix(fly_ash_fraction=0.25, admixtures=(Admixture("A"), Admixture("D")))
    alone = Mix(admixtures=(Admixture("D"),))
    assert set_ratio(stacked) > set_ratio(alone) > 1.3
    cold, warm = set_h(stacked, 8.0) / set_h(Mix(), 8.0), set_h(stacked, 30.0) / set_h(Mix(), 30.0)
    assert cold > set_ratio(stacked) > warm > 1.3


def test_a_retarded_load_opens_later_and_a_fast_one_sooner(make_pour: MakePour) -> None:
    def opens(mix: Mix) -> float:
        pour = make_pour(mix=mix)
        window = first(pour).windows["texture"]
        assert window is not None
        return (window.opens.likely - pour.loads[0].batched_at).total_seconds() / 3600

    usual = opens(Mix())
    assert opens(Mix(admixtures=(Admixture("D"),))) > usual + 0.5
    assert opens(Mix(cement_type="III")) < usual - 0.2


def test_slow_strength_moves_the_saw_and_not_the_texture(make_pour: MakePour) -> None:
    plain, slow = first(make_pour()), first(make_pour(mix=Mix(strength_slowness=1.5)))
    assert plain.windows["texture"] == slow.windows["texture"]
    ours, theirs = plain.windows["saw"], slow.windows["saw"]
    assert ours is not None
    assert theirs is not None
    assert theirs.opens.likely > ours.opens.likely


def test_less_bleeding_lets_the_sheen_go_sooner(make_pour: MakePour) -> None:
    def sheen_gone(mix: Mix) -> Any:
        window = first(make_pour(mix=mix, air_c=12.0, wind_kmh=12.0)).windows["edge"]
        assert window is not None
        return window.opens.likely

    assert sheen_gone(Mix(silica_fume_fraction=0.08)) <= sheen_gone(Mix())


@pytest.mark.parametrize(
    ("mix", "words"),
    [
        (Mix(), "Usual mix"),
        (Mix(admixtures=(Admixture("D"),)), "Slow mix: sets about 40 % later"),
        (Mix(cement_type="III"), "Fast mix: sets about 30 % sooner"),
        (Mix(fly_ash_fraction=0.3, slag_fraction=0.2), "Slow mix: sets about 30 % later"),
        (Mix(tau_h=27.4), "Slow mix: sets about 100 % later"),
    ],
)
def test_the_mix_is_named_as_the_trade_would(mix: Mix, words: str) -> None:
    assert mix_words(mix).startswith(words)


def test_hot_and_cold_water_move_the_concrete() -> None:
    """Source: the heat balance of mixing, ACI 305R and 306R (from memory, not verified): 150 kg of water 20 K
    warmer in 335 kg of binder and 1800 kg of aggregate bring 4.8 K; 30 kg of it as ice 4.7 K less or more."""
    plain = batch_temp_c(335, 20, 1800, 20, 150, 20)
    assert plain == pytest.approx(20)
    assert batch_temp_c(335, 20, 1800, 20, 150, 40) - plain == pytest.approx(4.84, abs=0.05)
    assert plain - batch_temp_c(335, 20, 1800, 20, 120, 20, 30) == pytest.approx(4.8, abs=0.2)


@pytest.mark.parametrize(
    ("key", "value", "path"),
    [
        ("cement_type", "IV", "mix.cement_type"),
        ("fly_ash_fraction", 0.9, "mix.fly_ash_fraction"),
        ("admixtures", [{"type": "Z"}], "mix.admixtures[0].type"),
        ("admixtures", [{"type": "D", "dose": 9}], "mix.admixtures[0].dose"),
        ("slag_fraction", "much", "mix.slag_fraction"),
    ],
)
def test_an_odd_recipe_is_named(sample: dict[str, Any], key: str, value: object, path: str) -> None:
    sample.setdefault("mix", {})[key] = value
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    assert [problem.path for problem in caught.value.problems] == [path]


def test_a_binder_of_ash_and_slag_alone_is_refused(sample: dict[str, Any]) -> None:
    sample["mix"] |= {"fly_ash_fraction": 0.5, "slag_fraction": 0.5}
    with pytest.raises(ContractError, match="of the binder"):
        read_pour(sample)


COVER = {"from": "2026-06-04T18:00:00-05:00", "to": "2026-06-05T08:00:00-05:00", "kind": "blanket"}


@pytest.mark.parametrize(
    ("change", "path"),
    [
        ({"kind": "tarp"}, "covers[0].kind"),
        ({"to": "2026-06-04T17:00:00-05:00"}, "covers[0].to"),
        ({"load": "9"}, "covers[0].load"),
        ({"r_m2k_w": -1}, "covers[0].r_m2k_w"),
        ({"colour": "red"}, "covers[0].colour"),
    ],
)
def test_an_odd_cover_is_named(sample: dict[str, Any], change: dict[str, object], path: str) -> None:
    sample["covers"] = [COVER | change]
    with pytest.raises(ContractError) as caught:
        read_pour(sample)
    assert [problem.path for problem in caught.value.problems] == [path]


def test_covers_shade_and_restraint_are_read(sample: dict[str, Any]) -> None:
    sample["covers"] = [COVER, COVER | {"kind": "wet", "load": "1", "r_m2k_w": 0.1}]
    sample["slab"] |= {"shade": 0.4, "neighbours": 0.5, "reentrant_corners": 2, "base_friction": 0.8}
    sample["weather"]["hourly"][3]["shade"] = 0.9
    pour = read_pour(sample)
    assert [(c.kind, c.load, c.r_m2k_w) for c in pour.covers] == [("blanket", None, 0.5), ("wet", "1", 0.1)]
    assert (pour.slab.shade, pour.slab.neighbours, pour.slab.reentrant_corners) == (0.4, 0.5, 2)
    assert pour.weather.hourly[3].shade == 0.9
    assert pour.weather.hourly[4].shade is None


@settings(quick, max_examples=15)
@given(mix=recipes)
def test_any_recipe_gives_a_whole_answer(make_pour: MakePour, mix: Mix) -> None:
    load = first(make_pour(mix=mix))
    for window in load.windows.values():
        if window is not None and window.closes is not None:
            assert window.opens.likely <= window.closes.likely
    assert all(0 <= point.stress_ratio <= 10 for point in load.curve)
