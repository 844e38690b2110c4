"""All that is told of mix, covers, shade and neighbours reaches the engine; what it can't take is said."""

from dataclasses import replace
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.conftest import iso
from tests.office.test_pour import HOUR, MINUTE, OPENED, SLAB, START, Said, asked, placed, ticket, view_of

from slabtide.engine.pour import WeatherHour
from slabtide.log.envelope import Event
from slabtide.log.fold import fold
from slabtide.log.view import view_job
from slabtide.office.pour import PlannedPour, planned_pour, pour_json
from slabtide.office.pour_covers import MOST_COVERS

MIX = {"name": "M", "cement_kg_m3": 340, "w_cm": 0.45, "design_strength_mpa": 28, "aggregate": "rounded"}
RECIPE = {
    **{"cement_type": "IL", "fly_ash_fraction": 0.2, "fly_ash_class": "C", "slag_fraction": 0.1},
    "silica_fume_fraction": 0.05,
}


def mix(**more: Any) -> Said:
    return "mix.chosen", {**MIX, **more}


def doses(**by_type: float) -> list[dict[str, Any]]:
    return [{"type": kind, "dose": dose} for kind, dose in by_type.items()]


def laid(cover: str = "c", **more: Any) -> Said:
    return "cover.laid", {"cover": cover, "cover_kind": "blanket", **more}


def lifted(cover: str = "c") -> Said:
    return "cover.lifted", {"cover": cover}


def test_the_recipe_reaches_the_engine_and_what_is_not_told_is_left_to_it() -> None:
    assert asked(view_of(mix(**RECIPE), ticket("a", 1)))[0]["mix"].items() >= RECIPE.items()
    assert set(asked(view_of(mix(), ticket("a", 1)))[0]["mix"]) == set(MIX) - {"name"}


def test_shade_base_neighbours_and_inner_corners_reach_the_engine() -> None:
    corners = [[0, 0], [8, 0], [8, 3], [4, 3], [4, 5], [0, 5]]
    abutting = [{"edge": 0, "against": "house"}, {"edge": 1, "against": "walk", "bonded": True}]
    told = {"corners": corners, "abutting": abutting, "shade": 0.4, "base_friction": 0.5}
    slab = asked(view_of(("slab.outlined", {**SLAB, **told}), ticket("a", 1)))[0]["slab"]
    assert (slab["shade"], slab["base_friction"]) == (0.4, 0.5)
    assert (slab["neighbours"], slab["reentrant_corners"]) == (pytest.approx(3 / 26, abs=1e-4), 1)
    plain = asked(view_of(ticket("a", 1)))[0]["slab"]
    assert (plain["neighbours"], plain["reentrant_corners"]) == (0.0, 0)
    assert not {"shade", "base_friction"} & set(plain)


def test_the_mixs_admixtures_are_every_loads_and_a_ticket_adds_its_own() -> None:
    data, said = asked(
        view_of(mix(admixtures=doses(A=1)), ticket("a", 1), ticket("b", 2, admixtures=doses(A=1, E=0.5)))
    )
    assert data["mix"]["admixtures"] == doses(A=1)
    assert [load.get("admixtures") for load in data["loads"]] == [None, doses(E=0.5)]
    assert "Load 2: the admixtures on its ticket are used, not the mix's." in said
    assert not any(line.startswith("Load 1: the admixtures") for line in said)


def test_a_ticket_without_what_the_mix_has_goes_without_it() -> None:
    tickets = [ticket("a", 1, admixtures=doses(B=2)), ticket("b", 2)]
    data, _ = asked(view_of(mix(admixtures=doses(A=1, B=1)), *tickets))
    assert data["mix"]["admixtures"] == doses(B=1)
    assert [load["admixtures"] for load in data["loads"]] == [doses(B=1), doses(A=1)]
    data, _ = asked(view_of(mix(admixtures=doses(A=1)), ticket("a", 1), ticket("b", 2, admixtures=[])))
    assert "admixtures" not in data["mix"]
    assert [load.get("admixtures") for load in data["loads"]] == [doses(A=1), None]


def test_a_load_still_to_come_has_what_the_mix_has() -> None:
    view = view_of(mix(admixtures=doses(A=1)), ticket("a", 1, admixtures=[]))
    pour = planned_pour(view)
    assert isinstance(pour, PlannedPour)
    coming = replace(pour, loads=(*pour.loads, pour.loads[0] | {"id": "planned-2"}))
    hours = [WeatherHour(START + (i - 3) * HOUR, 24.0, 0.5, 9.0) for i in range(40)]
    loads = pour_json(view, coming, hours)[0]["loads"]
    assert [load.get("admixtures") for load in loads] == [None, doses(A=1)]


def test_admixtures_told_on_every_ticket_count_without_a_mix() -> None:
    data, _ = asked(view_of(ticket("a", 1, admixtures=doses(C=1)), ticket("b", 2, admixtures=doses(C=2))))
    assert data["mix"] == {"admixtures": doses(C=1)}
    assert [load.get("admixtures") for load in data["loads"]] == [None, doses(C=1)]


def test_a_load_merged_into_another_is_asked_about_once() -> None:
    double = [ticket("b", 2), placed("b"), ("check.made", {"load": "b", "kind": "thumb"})]
    data, _ = asked(view_of(ticket("a", 1), *double, ("load.merged", {"load": "b", "into": "a"})))
    assert [(load["id"], load["placed_to"]) for load in data["loads"]] == [("a", iso(START + 50 * MINUTE))]
    assert [check["load"] for check in data["checks"]] == ["a"]


def test_water_past_the_ticket_is_said_and_within_it_is_not() -> None:
    within = ticket("a", 1, water_added_l=20, water_allowed_l=20)
    _, said = asked(view_of(within, ticket("b", 2, water_added_l=21, water_allowed_l=20)))
    assert [line for line in said if "water" in line] == [
        "Load 2: water added past the ticket is not in its times."
    ]


def test_a_cover_lies_from_laying_to_lifting_with_its_own_resistance() -> None:
    data, said = asked(view_of(ticket("a", 1), laid(r_m2k_w=0.8, load="a"), lifted()))
    # Entries are a minute apart: the ticket is the third.
    times = {"from": iso(START + 3 * MINUTE), "to": iso(START + 4 * MINUTE)}
    assert data["covers"] == [{**times, "kind": "blanket", "r_m2k_w": 0.8, "load": "a"}]
    assert not any("blanket" in line for line in said)


def test_a_cover_not_lifted_lies_as_far_as_the_weather_goes_and_that_is_said() -> None:
    data, said = asked(view_of(ticket("a", 1), laid()))
    assert data["covers"][0]["to"] == iso(START + 36 * HOUR)
    assert "The blanket is taken to stay on until it is lifted." in said


def test_a_cover_over_a_load_taken_back_is_left_out_aloud() -> None:
    data, said = asked(view_of(ticket("a", 1), laid(load="gone"), laid("d", cover_kind="wet")))
    assert [cover["kind"] for cover in data["covers"]] == ["wet"]
    assert "A blanket over a load since taken back is left out." in said


def test_without_covers_nothing_is_asked_about_them() -> None:
    assert "covers" not in asked(view_of(ticket("a", 1)))[0]


def test_no_more_covers_than_the_engine_takes() -> None:
    said = [each for i in range(MOST_COVERS + 5) for each in (laid(f"c{i}"), lifted(f"c{i}"))]
    assert len(asked(view_of(ticket("a", 1), *said))[0]["covers"]) == MOST_COVERS


OPENING: Said = ("job.opened", OPENED)
OUTLINE: Said = ("slab.outlined", SLAB)


def moment_of(minutes: int) -> str:
    return iso(START + minutes * MINUTE)


minutes = st.integers(-60 * 60, 60 * 60)
over = st.sampled_from(["a", "gone", None])
dose_rows = st.none() | st.lists(
    st.fixed_dictionaries({"type": st.sampled_from("ABCDEFGS"), "dose": st.floats(0, 2)}), max_size=8
)


@settings(deadline=None, max_examples=60)
@given(
    covers=st.lists(
        st.tuples(minutes, st.none() | minutes, st.sampled_from(["a", "gone", None])), max_size=4
    ),
    rows=st.tuples(dose_rows, dose_rows, dose_rows),
)
def test_whatever_covers_and_admixtures_are_told_the_engine_takes_the_question(
    covers: list[tuple[int, int | None, str | None]], rows: tuple[Any, Any, Any]
) -> None:
    timed: list[tuple[int, Said]] = [(0, mix(admixtures=rows[0]))]
    timed += [(1, ticket("a", 1, admixtures=rows[1])), (2, ticket("b", 2, admixtures=rows[2]))]
    for index, (start, end, load) in enumerate(covers):
        timed.append((start, laid(f"c{index}", load=load)))
        timed += [(end, lifted(f"c{index}"))] if end is not None else []
    events = [
        Event(f"e{i:05d}", "j", kind, body, moment_of(at), f"{i:015d}-0000-d", "d", "ana")
        for i, (at, (kind, body)) in enumerate([(0, OPENING), (0, OUTLINE), *timed])
    ]
    asked(view_job(fold(events, "j")))
