"""What checks teach."""

import math
from collections.abc import Callable
from dataclasses import replace
from datetime import timedelta
from statistics import NormalDist

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from slabtide.engine import Pour, Timeline, forecast
from slabtide.engine.contract import write_timeline
from slabtide.engine.learning import Belief, learn
from slabtide.engine.pour import CheckKind, SurfaceCheck
from slabtide.engine.readings import Reading

MakePour = Callable[..., Pour]
MIX = Belief(1.0, 0.2)


def reading(
    kind: CheckKind, depth_mm: float | None, share: float, load: str = "1", time_s: float = 0.0
) -> Reading:
    """A reading at a share of the way to a 6 mm footprint, for a set factor of 1."""
    return Reading(load, kind, depth_mm, time_s, math.log(share), math.log(share * 0.75))


def footprint(depth_mm: float, share: float, load: str = "1", time_s: float = 0.0) -> Reading:
    return reading("footprint", depth_mm, share, load, time_s)


def taught(*readings: Reading, load: str = "1") -> Belief:
    return learn(MIX, ["1", "2"], readings).beliefs[load]


def test_no_reading_changes_nothing() -> None:
    assert taught() == MIX


def test_a_print_too_deep_for_its_age_slows_the_mix_and_narrows_it() -> None:
    after = taught(footprint(14.0, 1.0))
    assert after.set_factor > 1.1
    assert after.set_factor_sd < 0.13


def test_a_print_too_shallow_for_its_age_quickens_it() -> None:
    assert taught(footprint(4.0, 0.8)).set_factor < 0.9


def test_one_print_is_the_closed_form_of_two_normals() -> None:
    after = taught(footprint(6.0, 1.2))
    gain = 0.2**2 / (0.2**2 + 0.13**2)
    assert math.log(after.set_factor) == pytest.approx(gain * math.log(1.2), abs=1e-3)
    assert after.set_factor_sd == pytest.approx(0.2 * math.sqrt(1.0 - gain), abs=1e-3)


def test_a_sister_learns_what_the_mix_shares_and_no_more() -> None:
    after = taught(footprint(6.0, 1.2), load="2")
    gain = (0.2**2 - 0.1**2) / (0.2**2 + 0.13**2)
    assert math.log(after.set_factor) == pytest.approx(gain * math.log(1.2), abs=1e-3)
    assert taught(footprint(6.0, 1.2)).set_factor > after.set_factor > 1.0
    assert after.set_factor_sd > 0.1


def test_a_mat_that_sticks_slows_and_one_refused_quickens() -> None:
    sticks = taught(reading("mat_sticks", None, 1.1))
    refused = taught(reading("mat_refused", None, 1.25))
    clean = taught(reading("mat_clean", None, 1.0))
    assert refused.set_factor < 0.95 < 1.05 < sticks.set_factor
    assert 0.75 < clean.set_factor < 1.0
    assert clean.set_factor_sd < 0.2


def test_a_thumb_without_a_depth_teaches_nothing() -> None:
    after = taught(reading("thumb", None, 1.0))
    assert after.set_factor == pytest.approx(1.0)
    assert after.set_factor_sd == pytest.approx(0.2, rel=0.01)


def test_no_mark_says_how_far_it_is_at_least_and_no_more() -> None:
    """Seen long after the footprint was due, no mark is what is expected; before it, the mix is quick."""
    late = taught(footprint(0.0, 2.6))
    assert late.set_factor == pytest.approx(1.0, abs=0.01)
    assert late.set_factor_sd == pytest.approx(0.2, abs=0.01)
    early = taught(footprint(0.0, 1.3))
    assert early.set_factor < 0.9
    assert early.set_factor_sd < 0.17
    assert taught(footprint(1.4, 1.3)) == early


def test_a_boot_that_sinks_says_how_far_it_is_at_most_and_no_more() -> None:
    soon = taught(footprint(30.0, 0.4))
    assert soon.set_factor == pytest.approx(1.0, abs=0.01)
    assert soon.set_factor_sd == pytest.approx(0.2, abs=0.01)
    late = taught(footprint(30.0, 0.95))
    assert late.set_factor > 1.2
    assert taught(footprint(60.0, 0.95)) == late


def test_a_bound_moves_the_belief_by_the_closed_form_of_a_normal_cut_off() -> None:
    """Set factor below b, read with an error: a normal law cut off by a normal, whose mean is known."""
    share, sd, error = 1.3, 0.2, 0.13
    bound = math.log(share) - math.log((6.0 / 1.5) ** 0.25)
    wide = math.hypot(sd, error)
    a, law = bound / wide, NormalDist()
    after = taught(footprint(0.0, share))
    assert math.log(after.set_factor) == pytest.approx(-sd * sd / wide * law.pdf(a) / law.cdf(a), abs=2e-3)


@pytest.mark.parametrize(("depth_mm", "least", "most"), [(0.0, 1.0, 1.0), (2.0, 4.0, 1.0), (6.0, 4.0, 4.0)])
def test_a_thumb_tells_no_mark_a_light_one_or_a_dent(depth_mm: float, least: float, most: float) -> None:
    """A light mark lies between the two; whatever number stands for it, it says the same."""
    edges = [math.log((6.0 / mm) ** 0.25) for mm in (least, most)]
    middle = math.exp(sum(edges) / 2.0)
    thumb = taught(reading("thumb", depth_mm, middle))
    if least != most:
        assert thumb.set_factor == pytest.approx(1.0, abs=0.01)
        assert thumb == taught(reading("thumb", 3.0, middle))
    else:
        assert (thumb.set_factor < 1.0) == (depth_mm == 0.0)
    assert thumb.set_factor_sd < 0.2


def test_a_boot_that_sinks_after_no_mark_goes_backwards_and_no_mark_twice_does_not() -> None:
    marks = footprint(0.0, 1.6, time_s=0), footprint(25.0, 1.7, time_s=900)
    assert learn(MIX, ["1"], marks).contradictory == {1}
    twice = footprint(0.0, 1.6, time_s=0), footprint(0.0, 1.7, time_s=900)
    assert learn(MIX, ["1"], twice).contradictory == frozenset()
    sunk = footprint(30.0, 0.6, time_s=0), footprint(45.0, 0.65, time_s=900)
    assert learn(MIX, ["1"], sunk).contradictory == frozenset()


def test_a_check_on_one_load_sets_it_apart_from_its_sister() -> None:
    """Correlation of two loads that share the mix, one of them read: the closed form of normals."""
    share, whole, error = 0.2**2 - 0.1**2, 0.2**2, 0.13**2
    left = error / (whole + error)
    apart = share * left / math.sqrt(whole * left * (whole - share**2 / (whole + error)))
    assert taught().together == 0.75
    assert taught(footprint(6.0, 1.1), load="2").together == pytest.approx(apart, abs=0.01)
    both = taught(footprint(6.0, 1.1), footprint(6.0, 1.0, load="2"), load="2")
    assert both.together < apart


def test_weather_that_ran_warmer_than_told_takes_the_blame_for_part_of_a_quick_check() -> None:
    """The doubt it leaves goes with the weather, and no number of checks takes it away."""
    warmed = [replace(footprint(6.0, 0.9, time_s=60.0 * k), firm_warmer=0.05) for k in range(8)]
    told, plain = taught(*warmed), taught(*(replace(one, firm_warmer=0.0) for one in warmed))
    assert told.set_factor == pytest.approx(plain.set_factor)
    assert told.set_factor_sd == pytest.approx(math.hypot(plain.set_factor_sd, 0.05), rel=0.1)
    assert plain.per_weather == 0.0
    assert 0.02 < told.per_weather < 0.05


prints = st.builds(footprint, st.floats(2.0, 25.0), st.floats(0.7, 1.4), st.sampled_from(["1", "2"]))


@settings(deadline=None)
@given(st.lists(prints, max_size=5), st.randoms(use_true_random=False))
def test_the_order_of_checks_at_one_time_does_not_matter(readings: list[Reading], chance: object) -> None:
    turned = list(readings)
    chance.shuffle(turned)  # type: ignore[attr-defined]
    assert taught(*turned).set_factor == pytest.approx(taught(*readings).set_factor, rel=1e-9)


@settings(deadline=None)
@given(st.lists(prints, max_size=6))
def test_a_check_never_makes_a_load_less_known_than_the_mix(readings: list[Reading]) -> None:
    for load in ("1", "2"):
        assert 0.04 <= taught(*readings, load=load).set_factor_sd <= MIX.set_factor_sd


def test_a_check_far_from_mix_and_others_is_flagged_and_widened_not_swallowed() -> None:
    sound = [footprint(6.0, 1.0), footprint(6.0, 1.02)]
    odd = footprint(6.0, 1.8)
    lesson = learn(MIX, ["1"], [*sound, odd])
    assert lesson.contradictory == {2}
    without, told = taught(*sound), lesson.beliefs["1"]
    assert told.set_factor > without.set_factor
    assert told.set_factor < 1.2
    assert told.set_factor_sd >= without.set_factor_sd


def test_a_second_check_that_agrees_clears_the_first() -> None:
    assert learn(MIX, ["1"], [footprint(6.0, 2.0)]).contradictory == {0}
    agreed = learn(MIX, ["1"], [footprint(6.0, 2.0), footprint(6.0, 2.0)])
    assert agreed.contradictory == frozenset()
    assert agreed.beliefs["1"].set_factor > 1.4


def test_concrete_does_not_soften() -> None:
    first, later = footprint(4.0, 1.05, time_s=0), footprint(12.0, 1.1, time_s=900)
    assert learn(MIX, ["1"], [first, later]).contradictory == {1}
    assert learn(MIX, ["1"], [later, first]).contradictory == {0}
    clean = reading("mat_clean", None, 1.0, time_s=0)
    sticks = reading("mat_sticks", None, 1.05, time_s=600)
    assert learn(MIX, ["1"], [clean, sticks]).contradictory == {1}
    elsewhere = reading("mat_sticks", None, 1.05, load="2", time_s=600)
    assert learn(MIX, ["1", "2"], [clean, elsewhere]).contradictory == frozenset()


def seen_at(pour: Pour, kind: CheckKind, depth_mm: float | None, minutes: int) -> SurfaceCheck:
    return SurfaceCheck("1", pour.loads[0].placed_to + timedelta(minutes=minutes), kind, depth_mm)


def test_a_deep_footprint_moves_the_window_later_once_it_is_seen(make_pour: MakePour) -> None:
    check = seen_at(make_pour(), "footprint", 25.0, 120)
    pour = make_pour(checks=(check,))
    before = forecast(pour, check.at - timedelta(minutes=1)).loads[0]
    after = forecast(pour, check.at).loads[0]
    first, second = before.windows["texture"], after.windows["texture"]
    assert first is not None
    assert second is not None
    assert second.opens.likely > first.opens.likely
    assert second.opens.late - second.opens.early < first.opens.late - first.opens.early
    assert before.set_factor == pytest.approx(1.0)
    assert before.learned.from_checks == 0


def with_checks(make_pour: MakePour, *checks: SurfaceCheck) -> Timeline:
    pour = make_pour(loads=2, checks=checks)
    return forecast(pour, max(check.at for check in checks))


def test_the_answer_says_what_each_check_changed(make_pour: MakePour) -> None:
    plain = make_pour(loads=2)
    quick = seen_at(plain, "footprint", 5.0, 75), seen_at(plain, "footprint", 4.0, 90)
    own, sister = (load.learned for load in with_checks(make_pour, *quick).loads)
    assert own.from_checks == sister.from_checks == 2
    assert [change.at for change in own.changes] == [check.at for check in quick]
    assert own.changes[1].percent_faster > sister.changes[1].percent_faster > 5
    first, second = own.changes
    assert first.texture_closes_was is not None
    assert first.texture_closes_now is not None
    assert first.texture_closes_now < first.texture_closes_was
    assert second.texture_closes_was == first.texture_closes_now
    early, likely, late = own.set_factor
    assert early < likely < late < 1.0


def test_the_last_change_ends_at_the_window_that_is_shown(make_pour: MakePour) -> None:
    load = with_checks(make_pour, seen_at(make_pour(), "footprint", 4.0, 90)).loads[0]
    window = load.windows["texture"]
    assert window is not None
    assert window.closes is not None
    assert load.learned.changes[-1].texture_closes_now == window.closes.likely


def test_a_contradiction_is_a_notice_and_stands_with_its_load(make_pour: MakePour) -> None:
    plain = make_pour(loads=2)
    checks = seen_at(plain, "mat_clean", None, 90), seen_at(plain, "mat_sticks", None, 100)
    timeline = with_checks(make_pour, *checks)
    assert timeline.loads[0].learned.contradictory == (checks[1],)
    assert timeline.loads[1].learned.contradictory == ()
    told = [notice for notice in timeline.warnings if notice.code == "check_contradicts"]
    assert [(notice.load, notice.starts) for notice in told] == [("1", checks[1].at)]


def test_what_was_learned_is_written_with_every_key(make_pour: MakePour) -> None:
    data = write_timeline(with_checks(make_pour, seen_at(make_pour(), "footprint", 8.0, 80)))
    learned = data["loads"][0]["learned"]  # type: ignore[index]
    assert list(learned) == ["set_factor", "from_checks", "changes", "contradictory"]
    assert list(learned["set_factor"]) == ["early", "likely", "late"]
    keys = ["load", "at", "kind", "percent_faster", "texture_closes_was", "texture_closes_now"]
    assert list(learned["changes"][0]) == keys
