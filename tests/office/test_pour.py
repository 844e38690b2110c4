"""What the log allows, the engine takes; what is assumed is said."""

from datetime import UTC, datetime, timedelta
from typing import Any

from tests.conftest import iso

from slabtide.engine.contract import read_pour
from slabtide.engine.pour import WeatherHour
from slabtide.log.envelope import Event
from slabtide.log.fold import fold
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.pour import MOST_CHECKS, PlannedPour, planned_pour, pour_json
from slabtide.weather.contract import Problem

START = datetime(2026, 7, 14, 11, tzinfo=UTC)
HOUR, MINUTE = timedelta(hours=1), timedelta(minutes=1)
OPENED = {
    "name": "P",
    "latitude_deg": 36,
    "longitude_deg": -80,
    "time_zone": "America/New_York",
    "use": "walk",
}
SLAB = {
    "corners": [[0, 0], [12, 0], [12, 2], [0, 2]],
    "thickness_m": 0.1,
    "insulation_r_m2k_w": 6,
    "ground_temp_c": 18,
    "solar_absorptivity": 0.98,
    "abutting": [],
}
Said = tuple[str, dict[str, Any]]


def view_of(*said: Said) -> JobView:
    events = [
        Event(f"e{i:05d}", "j", kind, body, iso(START + i * MINUTE), f"{i:015d}-0000-d", "d", "ana")
        for i, (kind, body) in enumerate([("job.opened", OPENED), ("slab.outlined", SLAB), *said])
    ]
    return view_job(fold(events, "j"))


def ticket(load: str, number: int, **more: Any) -> Said:
    body = {"load": load, "number": number, "batched_at": iso(START), "volume_m3": 1.2, **more}
    return "load.ticketed", body


def placed(load: str, **more: Any) -> Said:
    times = {"from": iso(START + 30 * MINUTE), "to": iso(START + 50 * MINUTE)}
    return "load.placed", {"load": load, **times, **more}


def asked(view: JobView) -> tuple[dict[str, Any], tuple[str, ...]]:
    """The engine's input, once the engine itself has read it."""
    hours = [WeatherHour(START + (i - 3) * HOUR, 24.0, 0.5, 9.0) for i in range(40)]
    pour = planned_pour(view)
    assert isinstance(pour, PlannedPour)
    data, assumptions = pour_json(view, pour, hours)
    read_pour(data)
    return data, tuple(each.text for each in assumptions)


def test_the_widest_values_of_the_log_pass_the_engine() -> None:
    mix = {
        "name": "M",
        "cement_kg_m3": 600,
        "w_cm": 0.7,
        "design_strength_mpa": 60,
        "aggregate": "rounded",
        "set_factor": 2.5,
        "set_factor_sd": 1,
    }
    crew = {"people": 20, "mats": 60, "mat_area_m2": 5, "lay_minutes": 60}
    saw = {"saw_kind": "early-entry", "saw_length_m": 5000, "saw_rate_m_per_min": 30}
    data, _ = asked(view_of(("mix.chosen", mix), ("crew.assigned", crew | saw), ticket("a", 1), placed("a")))
    assert data["mix"]["set_factor_sd"] == 0.6
    assert data["saw"]["rate_m_per_min"] == 20.0


def test_areas_come_from_bays_else_from_the_placing_else_from_the_volume() -> None:
    square = {"corners": [[0, 0], [3, 0], [3, 2], [0, 2]], "order": 1}
    bay = ("bay.drawn", {"bay": "b", "label": "1", "load": "a", **square})
    assert asked(view_of(bay, ticket("a", 1)))[0]["loads"][0]["area_m2"] == 6.0
    assert asked(view_of(ticket("a", 1), placed("a", area_m2=11)))[0]["loads"][0]["area_m2"] == 11.0
    assert asked(view_of(ticket("a", 1)))[0]["loads"][0]["area_m2"] == 12.0


def test_a_load_without_a_ticket_still_counts_on_what_area_is_left() -> None:
    data, said = asked(view_of(ticket("a", 1), placed("b")))
    assert [load["area_m2"] for load in data["loads"]] == [12.0, 12.0]
    assert "A load without a ticket: batching is taken 30 min before placing." in list(said)


def test_checks_of_unknown_loads_are_left_out_and_the_latest_500_kept() -> None:
    checks = [("check.made", {"load": "a", "kind": "footprint", "depth_mm": 20 - i / 40}) for i in range(600)]
    stray = ("check.made", {"load": "gone", "kind": "footprint", "depth_mm": 5})
    data, _ = asked(view_of(ticket("a", 1), stray, *checks))
    assert len(data["checks"]) == MOST_CHECKS
    assert data["checks"][-1]["depth_mm"] == 20 - 599 / 40
    assert {check["load"] for check in data["checks"]} == {"a"}


def test_what_is_not_known_is_assumed_aloud() -> None:
    _, said = asked(view_of(ticket("a", 1)))
    assert list(said) == [
        "Load 1: placing is taken to start 30 min after batching.",
        "Load 1: concrete is taken 2 °C (4 °F) warmer than the air at batching.",
        "Longest run without a joint: the slab's own length, until one is entered.",
        "No mix is entered: a usual 27.6 MPa (4,000 psi) mix is assumed.",
    ]


def test_a_job_with_no_loads_and_no_order_says_what_to_enter() -> None:
    problem = planned_pour(view_of())
    assert isinstance(problem, Problem)
    assert (problem.code, problem.do.startswith("Enter the order")) == ("order_missing", True)


def test_ordered_loads_are_equal_and_45_minutes_apart() -> None:
    order = ("order.placed", {"volume_m3": 6, "loads": 3, "pour_at": iso(START)})
    pour = planned_pour(view_of(order))
    assert isinstance(pour, PlannedPour)
    assert [load["placed_from"] for load in pour.loads] == [iso(START + i * 45 * MINUTE) for i in range(3)]
    assert {load["area_m2"] for load in pour.loads} == {8.0}
    assert pour.planned
