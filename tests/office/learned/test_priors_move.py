"""What a closed job teaches its mix, once and no more, and what the next pour begins from."""

import math
from collections.abc import Callable
from datetime import timedelta

import pytest
from tests.conftest import Joined
from tests.office.learned.closing import (
    FIRM_AT,
    ahead,
    another,
    checked,
    close,
    closed,
    known,
    mixed,
    priors,
    results,
)
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio

from slabtide.engine.prior import PourResult, update_prior
from slabtide.people.companies import create_company

OWN, MIX, ALL = ("patio mix", "kettle bend"), ("patio mix", ""), ("", "")
LATER = FIRST_BATCH + timedelta(days=4)


def numbers(patio: Patio) -> dict[tuple[str, str], tuple[int, float, float]]:
    return {key: (row.pours, row.mean_log, row.sd_log) for key, row in known(patio).items()}


def opens(patio: Patio) -> str:
    """When texturing likely opens on the first load."""
    return str(patio.mine()["timeline"]["loads"][0]["windows"]["texture"]["opens"]["likely"])


def test_deep_prints_late_tell_that_the_mix_is_slow(patio: Patio) -> None:
    closed(patio)
    found = numbers(patio)
    assert set(found) == {OWN, MIX, ALL}
    pours, mean, sd = found[OWN]
    assert (pours, mean > 0.05, 0.08 <= sd < 0.2) == (1, True, True)
    row = results(patio)[patio.job]
    assert (row.began_mean, row.began_sd) == (0.0, 0.2)
    assert row.mean_log is not None
    assert row.sd_log is not None
    assert update_prior((0.0, 0.2), [PourResult(row.mean_log, row.sd_log, (0.0, 0.2))]) == (mean, sd)


def test_an_unchecked_pour_teaches_nothing(patio: Patio) -> None:
    mixed(patio)
    patio.poured()
    patio.tick(FIRST_BATCH + 12 * HOUR)
    close(patio)
    assert results(patio)[patio.job].mean_log is None
    assert known(patio) == {}


def test_closing_twice_and_late_events_count_a_pour_once(patio: Patio) -> None:
    closed(patio)
    once = numbers(patio)
    patio.record("job.closed", {"outcome": "again"}, FIRST_BATCH + 31 * HOUR)
    patio.tick(LATER)
    patio.record("note.written", {"text": "late"}, LATER)
    patio.tick(LATER + MINUTE)
    assert numbers(patio) == once


def test_reopening_takes_the_pour_out_and_closing_again_puts_it_back(patio: Patio) -> None:
    event = closed(patio)
    once = numbers(patio)
    patio.record("event.retracted", {"event": event}, LATER)
    patio.tick(LATER)
    assert known(patio) == {}
    assert results(patio) == {}
    close(patio)
    assert numbers(patio) == once


def test_the_order_in_which_closings_are_heard_makes_no_difference(patio: Patio) -> None:
    """Each job began from nothing known here, as the clocks of both pours stand before both closings."""
    closed(patio)
    second = another(patio)
    mixed(second)
    second.poured()
    checked(second, FIRM_AT)
    second.tick(FIRST_BATCH + 12 * HOUR)
    event = close(second, days=1)
    both = numbers(patio)
    assert both[OWN][0] == 2
    second.record("event.retracted", {"event": event}, LATER)
    second.tick(LATER)
    assert numbers(patio)[OWN][0] == 1
    close(second, days=-1)
    assert numbers(patio)[OWN][0] == 2
    assert numbers(patio) != both, "the older of two pours weighs a little less"


def test_a_job_never_begins_from_its_own_pour(patio: Patio) -> None:
    closed(patio)
    patio.record("note.written", {"text": "looked at again"}, LATER)
    patio.tick(LATER)
    assert priors(patio)[patio.job].told is None
    assert results(patio)[patio.job].began_sd == 0.2


def test_the_next_pour_begins_from_what_was_learned(patio: Patio) -> None:
    following = ahead(patio)
    following.tick(FIRST_BATCH + 12 * HOUR)
    by_the_book = opens(following)
    closed(patio)
    following.tick(LATER)  # the closing alone has it looked at again
    mine = following.mine()
    row = known(patio)[OWN]
    assert mine["prior"]["level"] == "plant"
    assert mine["prior"]["set_factor"] == pytest.approx(math.exp(row.mean_log), abs=1e-4)
    assert mine["prior"]["set_factor_sd"] == pytest.approx(row.sd_log, abs=1e-4)
    assert opens(following) > by_the_book
    factor = mine["timeline"]["loads"][0]["learned"]["set_factor"]
    assert factor["likely"] == pytest.approx(mine["prior"]["set_factor"], abs=1e-3)


def test_another_plant_and_another_mix_are_known_less_surely(patio: Patio) -> None:
    closed(patio)
    told = {}
    for name, plant in (("PATIO  mix", "kettle bend"), ("Patio mix", "Quarry"), ("Drive mix", "Quarry")):
        job = ahead(patio, name=name, plant=plant)
        job.tick(LATER)
        told[job.mine()["prior"]["level"]] = job.mine()["prior"]["set_factor_sd"]
    assert list(told) == ["plant", "mix", "company"]
    assert told["plant"] < told["mix"] < told["company"] <= 0.2


def test_a_set_factor_the_foreman_entered_goes_before_what_was_learned(patio: Patio) -> None:
    closed(patio)
    following = ahead(patio, set_factor=1.0, set_factor_sd=0.1)
    following.tick(LATER)
    factor = following.mine()["timeline"]["loads"][0]["learned"]["set_factor"]
    assert factor["likely"] == pytest.approx(1.0)
    assert factor["late"] == pytest.approx(math.exp(1.2816 * 0.1), abs=2e-3)


def test_a_pour_begun_keeps_what_it_began_from(patio: Patio) -> None:
    """Another job of the mix closes while this one lies there."""
    first = another(patio)
    mixed(patio)
    patio.poured()
    patio.tick(FIRST_BATCH + 6 * HOUR)
    closed(first)
    patio.record("note.written", {"text": "look"}, LATER)
    patio.tick(LATER)
    assert patio.mine()["prior"] is None
    assert priors(patio)[patio.job].told is None


def test_another_companys_pours_are_not_known_here(patio: Patio, join: Callable[..., Joined]) -> None:
    closed(patio)
    with patio.app.app_context():
        other = create_company("Elsewhere")
    theirs = Patio(patio.app, patio.client, patio.sync, join("foreman", company=other))
    job = ahead(theirs)
    job.tick(LATER)
    assert job.mine()["prior"] is None
    assert job.outlook()["mixes"] == []


def test_a_pour_set_aside_moves_nothing_until_it_is_taken_back_in(patio: Patio) -> None:
    closed(patio)
    once = numbers(patio)
    event = patio.record("learning.set_aside", {"why": "truck stood an hour"}, LATER)
    patio.tick(LATER)
    assert known(patio) == {}
    assert results(patio)[patio.job].aside == "truck stood an hour"
    patio.record("event.retracted", {"event": event}, LATER)
    patio.tick(LATER + MINUTE)
    assert numbers(patio) == once
