"""Roles: who may write what, and who may take it back."""

from __future__ import annotations

import uuid
from collections.abc import Callable
from typing import Any

import pytest

from slabtide.log.kinds import KINDS, ROLES

Join = Callable[..., Any]
NOTE = {"text": "x"}


def retract(sync: Any, who: Any, job: str, target: str) -> dict[str, Any]:
    event = sync.event(who, job, "event.retracted", {"event": target})
    answer: dict[str, Any] = sync(who, event)
    return answer


def code_of(answer: dict[str, Any]) -> str:
    return str(answer["rejected"][0]["why"]["code"])


@pytest.mark.parametrize("role", ROLES)
def test_a_kind_is_refused_exactly_to_the_roles_it_is_not_for(
    sync: Any, join: Join, job: str, role: str
) -> None:
    who = join(role)
    events = {name: sync.event(who, job, name, {"nothing": 0}) for name in KINDS}
    rejected = {one["id"]: one["why"]["code"] for one in sync(who, *events.values())["rejected"]}
    barred = {name for name in KINDS if rejected[events[name]["id"]] == "role_not_allowed"}
    assert barred == {name for name, kind in KINDS.items() if role not in kind.roles}
    assert barred or role == "foreman"


def test_crew_take_back_their_own_in_one_call_or_later(sync: Any, join: Join, job: str) -> None:
    ana = join("crew")
    first = sync.event(ana, job, "note.written", NOTE)
    undo = sync.event(ana, job, "event.retracted", {"event": first["id"]})
    assert len(sync(ana, first, undo)["accepted"]) == 2
    second = sync.record(ana, job, "note.written", NOTE)
    assert len(retract(sync, ana, job, second)["accepted"]) == 1


def test_crew_do_not_take_back_what_others_wrote(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("crew"), join("foreman")
    theirs = sync.record(luis, job, "note.written", NOTE)
    assert code_of(retract(sync, ana, job, theirs)) == "role_not_allowed"


def test_crew_do_not_take_back_what_nobody_has_seen(sync: Any, join: Join, job: str) -> None:
    assert code_of(retract(sync, join("crew"), job, str(uuid.uuid4()))) == "target_unknown"


@pytest.mark.parametrize("role", ["foreman", "office"])
def test_foreman_and_office_take_back_anything(sync: Any, join: Join, job: str, role: str) -> None:
    theirs = sync.record(join("crew"), job, "note.written", NOTE)
    assert len(retract(sync, join(role), job, theirs)["accepted"]) == 1


def test_an_id_in_use_for_something_else_is_refused(sync: Any, join: Join, job: str) -> None:
    ana, luis = join("foreman"), join("foreman")
    first = sync.event(ana, job, "note.written", NOTE)
    sync(ana, first)
    other = sync.event(luis, job, "note.written", NOTE, id=first["id"])
    assert code_of(sync(luis, other)) == "id_taken"
