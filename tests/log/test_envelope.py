"""One event from the wire: taken as it is, or rejected with a code, a path, and what to do."""

from contextlib import suppress
from datetime import UTC, datetime
from typing import Any

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.log.envelope import Event, EventRejected, read_event
from slabtide.log.kinds import KINDS, may_retract

NOW = datetime(2026, 7, 14, 12, tzinfo=UTC)
ID = "01980a5d-ac96-774b-bcce-b302099a8057"
DEVICE = "5f1d7a52-0c2e-4d53-9d4c-0e6f6d1f0a01"
GOOD: dict[str, Any] = {
    "id": ID,
    "job": "7a52c0de-0c2e-4d53-9d4c-0e6f6d1f0a02",
    "kind": "item.ticked",
    "body": {"list": "forms", "item": "stakes", "subject": "", "done": True},
    "at": "2026-07-14T11:59:30.000Z",
    "clock": f"001784030370000-0000-{DEVICE}",
    "device": DEVICE,
    "author": "7a52c0de-0c2e-4d53-9d4c-0e6f6d1f0a03",
    "raw_at": None,
}


def rejected(change: dict[str, Any], role: str = "crew", drop: str | None = None) -> EventRejected:
    data = {name: value for name, value in {**GOOD, **change}.items() if name != drop}
    with pytest.raises(EventRejected) as caught:
        read_event(data, role=role, now=NOW)
    assert caught.value.message
    assert caught.value.do
    assert set(caught.value.as_json()) == {"code", "path", "message", "do"}
    return caught.value


def test_a_good_event_comes_out_as_it_came() -> None:
    assert read_event(GOOD, role="crew", now=NOW).as_json() == GOOD


def test_raw_at_may_be_left_out() -> None:
    data = {name: value for name, value in GOOD.items() if name != "raw_at"}
    assert read_event(data, role="crew", now=NOW).raw_at is None


@pytest.mark.parametrize(
    ("change", "code", "path"),
    [
        ({"id": "not-a-uuid"}, "id_invalid", "id"),
        ({"id": DEVICE}, "id_invalid", "id"),
        ({"id": ID.upper()}, "id_invalid", "id"),
        ({"id": ID + "\n"}, "id_invalid", "id"),
        ({"job": 7}, "id_invalid", "job"),
        ({"author": None}, "id_invalid", "author"),
        ({"clock": "soon"}, "clock_invalid", "clock"),
        ({"clock": 12}, "clock_invalid", "clock"),
        ({"clock": f"001784030370000-0000-{GOOD['author']}"}, "clock_invalid", "clock"),
        ({"at": "2026-07-14T11:59:30Z"}, "time_invalid", "at"),
        ({"at": "2026-07-14T11:59:30.000+00:00"}, "time_invalid", "at"),
        ({"at": "2026-02-30T11:59:30.000Z"}, "time_invalid", "at"),
        ({"at": 1784030370000}, "time_invalid", "at"),
        ({"raw_at": "yesterday"}, "time_invalid", "raw_at"),
        ({"at": "2019-12-31T23:59:59.999Z"}, "time_unlikely", "at"),
        ({"at": "2099-01-01T00:00:00.000Z"}, "time_unlikely", "at"),
        ({"kind": "slab.levitated"}, "kind_unknown", "kind"),
        ({"kind": ["item.ticked"]}, "kind_unknown", "kind"),
        ({"kind": "job.opened"}, "role_not_allowed", "kind"),
        ({"body": []}, "body_invalid", "body"),
        ({"body": {**GOOD["body"], "mood": "good"}}, "body_invalid", "body.mood"),
        ({"body": {**GOOD["body"], "done": 1}}, "body_invalid", "body.done"),
        ({"seq": 12}, "field_unknown", "seq"),
    ],
)
def test_a_bad_event_is_rejected_with_its_path(change: dict[str, Any], code: str, path: str) -> None:
    why = rejected(change)
    assert (why.code, why.path) == (code, path)


@pytest.mark.parametrize("name", [name for name in GOOD if name != "raw_at"])
def test_a_missing_field_is_named(name: str) -> None:
    why = rejected({}, drop=name)
    assert (why.code, why.path) == ("field_missing", name)


def test_a_nested_problem_is_found_with_its_row() -> None:
    day = {"date": "2026-07-14", "low_c": 12, "high_c": 20, "rh": 0.5, "wind_kmh": 5, "cloud": 0}
    why = rejected({"kind": "weather.planned", "body": {"days": [day, {**day, "rh": 65}]}}, role="foreman")
    assert why.path == "body.days.1.rh"
    assert "65 is outside 0 to 1 (0.65 is 65 %)" in why.message


@pytest.mark.parametrize("name", KINDS)
def test_each_kind_is_open_to_its_roles_only(name: str) -> None:
    for role in ("crew", "foreman", "office", "visitor"):
        with pytest.raises(EventRejected) as caught:
            read_event({**GOOD, "kind": name, "body": {"no": 1}}, role=role, now=NOW)
        wanted = "body_invalid" if role in KINDS[name].roles else "role_not_allowed"
        assert caught.value.code == wanted


def test_crew_take_back_their_own_and_the_lead_anyones() -> None:
    assert may_retract("crew", "ana", "ana")
    assert not may_retract("crew", "ana", "ben")
    assert may_retract("foreman", "ana", "ben")
    assert may_retract("office", "ana", "ben")


json_values = st.recursive(
    st.none() | st.booleans() | st.integers() | st.floats() | st.text(max_size=20),
    lambda part: st.lists(part, max_size=3) | st.dictionaries(st.text(max_size=8), part, max_size=3),
    max_leaves=8,
)


@given(st.sampled_from(sorted(GOOD)), json_values, st.sampled_from(sorted(KINDS)))
def test_whatever_comes_is_taken_or_rejected_and_nothing_else(name: str, value: Any, kind: str) -> None:
    data = {**GOOD, "kind": kind, name: value}
    with suppress(EventRejected):
        assert isinstance(read_event(data, role="foreman", now=NOW), Event)


@given(json_values)
def test_whatever_comes_in_place_of_an_event_is_rejected(value: Any) -> None:
    with pytest.raises(EventRejected):
        read_event(value, role="foreman", now=NOW)
