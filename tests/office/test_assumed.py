"""Every assumption has a code and numbers that phones are tested with, and old outlooks are still read."""

import json
from datetime import timedelta
from pathlib import Path

import pytest

from slabtide.office import assumed
from slabtide.office.assumed import Assumption, as_told, told_as_kept

SAMPLES = json.loads((Path(__file__).parents[1] / "vectors/assumptions.json").read_text(encoding="utf-8"))
APART, HAUL = timedelta(minutes=45), timedelta(minutes=30)
ALL = [
    assumed.planned_loads(1, APART),
    assumed.planned_loads(2, APART),
    assumed.loads_to_come(3, APART),
    assumed.placing_begins(2, HAUL),
    assumed.batching_of_unticketed(HAUL),
    assumed.concrete_temperature(1, 2.0),
    assumed.concrete_temperature(None, 2.0),
    assumed.longest_run(6.1),
    assumed.usual_mix(),
    assumed.ticket_admixtures(1),
    assumed.water_past_ticket(3),
    assumed.cover_left_out("wet"),
    assumed.cover_stays("blanket"),
]


def test_every_maker_of_an_assumption_is_tried_here() -> None:
    makers = [
        name
        for name, made in vars(assumed).items()
        if getattr(made, "__annotations__", {}).get("return") in (Assumption, "Assumption")
    ]
    tried = {one.code.removesuffix("_any") for one in ALL} - {"planned_one"}
    assert set(makers) == tried


def test_the_samples_that_phones_are_tested_with_are_all_that_can_be_assumed() -> None:
    assert {one.code: dict(one.params) for one in ALL} == SAMPLES


@pytest.mark.parametrize("one", ALL, ids=lambda one: one.code)
def test_the_sentence_holds_the_numbers(one: Assumption) -> None:
    assert one.text.endswith(".")
    for name, value in one.params:
        if name in ("count", "minutes", "load"):
            assert str(value) in one.text


def test_answers_carry_the_sentence_and_the_code_side_by_side() -> None:
    told = as_told((assumed.usual_mix(), assumed.cover_stays("sheet")))
    assert told["assumptions"][1] == "The sheet is taken to stay on until it is lifted."
    assert told["assumed"][1] == {
        "code": "cover_stays",
        "params": {"cover": "sheet"},
        "text": told["assumptions"][1],
    }
    assert told_as_kept(told["assumed"]) == told


def test_an_outlook_kept_before_there_were_codes_keeps_its_sentences() -> None:
    assert told_as_kept(["Planned: one load."]) == {"assumptions": ["Planned: one load."], "assumed": []}
