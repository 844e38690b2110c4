"""Surface checks and texturing are told load by load, by the engine's windows, until the log says done."""

from collections.abc import Callable
from dataclasses import replace
from datetime import datetime, timedelta
from typing import Any

import pytest
from sqlalchemy import select
from tests.conftest import Joined
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio
from tests.reminders.conftest import PLACED, Scene, facts, when

from slabtide.log.instants import read_instant
from slabtide.office.board_next import next_of
from slabtide.reminders import worker
from slabtide.reminders.contract import LANGUAGES, Spec
from slabtide.reminders.hand_work import HandLoad
from slabtide.reminders.notebook import begun_works
from slabtide.reminders.rules import closing_from, derive
from slabtide.reminders.upsert import upsert
from slabtide.reminders.words import Telling, body, title
from slabtide.store.session import read, write
from slabtide.store.tables import JobMark, Reminder

EDGES, TEXTURE, CLOSES = PLACED + 100 * MINUTE, PLACED + 2 * HOUR, PLACED + 4 * HOUR
ONE = HandLoad("one", 1, begun=False, textured=False, can_be_ticked=True, checked_at=None)
Join = Callable[..., Joined]


def windows(later: timedelta = timedelta(0)) -> dict[str, Any]:
    return {
        "edge": {"opens": when(EDGES + later, 20), "closes": when(CLOSES + later, 20)},
        "texture": {"opens": when(TEXTURE + later, 20), "closes": when(CLOSES + later, 30)},
    }


def timeline(**later: timedelta) -> dict[str, Any]:
    """Loads by id, each so much later than the first."""
    return {"loads": [{"id": name, "windows": windows(by)} for name, by in later.items()], "slots": {}}


def derived(*loads: HandLoad, **later: timedelta) -> dict[tuple[str, str, str], Spec]:
    told = timeline(**later) if later else timeline(one=timedelta(0))
    specs = derive(facts(hand_loads=loads or (ONE,)), told)
    return {(s.what, s.subject, s.stage): s for s in specs if s.what in ("check", "texture")}


def test_a_load_has_four_stages_of_each_at_its_own_times() -> None:
    due = {key: spec.due for key, spec in derived().items()}
    early_edges, late_texture = EDGES - 20 * MINUTE, TEXTURE + 20 * MINUTE
    assert due == {
        ("check", "load-1", "heads_up"): early_edges - 20 * MINUTE,
        ("check", "load-1", "open"): early_edges,
        ("check", "load-1", "last_call"): TEXTURE - 10 * MINUTE,
        ("check", "load-1", "missed"): late_texture,
        ("texture", "load-1", "heads_up"): TEXTURE - 30 * MINUTE,
        ("texture", "load-1", "open"): TEXTURE,
        ("texture", "load-1", "last_call"): CLOSES - 30 * MINUTE - 18 * MINUTE,  # a fifth of 90 min
        ("texture", "load-1", "missed"): CLOSES,
    }


def test_they_run_out_three_hours_after_their_end() -> None:
    found = derived()
    assert found["texture", "load-1", "open"].expires == CLOSES + 3 * HOUR
    assert found["check", "load-1", "open"].expires == TEXTURE + 20 * MINUTE + 3 * HOUR


def test_the_last_call_comes_when_the_screens_say_closing() -> None:
    """The same as closingFrom on the phone: see tests/pwa/look."""
    (spec,) = [one for key, one in derived().items() if key == ("texture", "load-1", "open")]

    class Window:
        opens, closes = spec.opens, spec.closes

    assert closing_from(Window) == CLOSES - 48 * MINUTE  # type: ignore[arg-type]
    tight = replace(spec.closes, early=TEXTURE + 11 * MINUTE)  # type: ignore[type-var]
    Window.closes = tight
    assert closing_from(Window) == TEXTURE + MINUTE  # type: ignore[arg-type]
    Window.closes = replace(tight, early=TEXTURE + 9 * HOUR)
    assert closing_from(Window) == TEXTURE + 8 * HOUR  # type: ignore[arg-type]


def test_only_the_first_load_and_one_after_a_long_gap_have_a_heads_up() -> None:
    loads = (ONE, replace(ONE, id="two", number=2), replace(ONE, id="three", number=3))
    found = derived(*loads, one=timedelta(0), two=45 * MINUTE, three=3 * HOUR)
    ahead = {subject for what, subject, stage in found if (what, stage) == ("texture", "heads_up")}
    assert ahead == {"load-1", "load-3"}
    assert {subject for what, subject, stage in found if stage == "open"} == {"load-1", "load-2", "load-3"}


def test_a_second_load_gets_no_heads_up_because_the_first_is_done() -> None:
    loads = (replace(ONE, begun=True, textured=True), replace(ONE, id="two", number=2))
    found = derived(*loads, one=timedelta(0), two=45 * MINUTE)
    assert {subject for _, subject, _ in found} == {"load-2"}
    assert "heads_up" not in {stage for _, _, stage in found}


def test_texturing_begun_needs_no_opening_and_no_check_but_still_its_end() -> None:
    found = derived(replace(ONE, begun=True))
    assert set(found) == {("texture", "load-1", "last_call"), ("texture", "load-1", "missed")}


def test_textured_is_done() -> None:
    assert derived(replace(ONE, begun=True, textured=True)) == {}


def test_a_check_in_its_time_settles_the_checks_of_its_load_alone() -> None:
    opens = EDGES - 20 * MINUTE
    for at, settled in ((opens - 21 * MINUTE, False), (opens - 20 * MINUTE, True), (opens + HOUR, True)):
        loads = (replace(ONE, checked_at=at), replace(ONE, id="two", number=2))
        found = derived(*loads, one=timedelta(0), two=45 * MINUTE)
        assert (("check", "load-1", "open") not in found) is settled
        assert ("check", "load-2", "open") in found
        assert ("texture", "load-1", "open") in found


def test_a_check_that_showed_slow_concrete_is_asked_for_again_when_the_edges_open() -> None:
    checked = replace(ONE, checked_at=EDGES - 20 * MINUTE)
    assert ("check", "load-1", "open") not in derived(checked)
    slower = derived(checked, one=50 * MINUTE)
    assert slower["check", "load-1", "open"].due == EDGES + 30 * MINUTE


def test_a_load_without_bays_can_not_be_ticked_so_nothing_of_it_is_called_missed() -> None:
    found = derived(replace(ONE, can_be_ticked=False))
    assert {stage for what, _, stage in found if what == "texture"} == {"heads_up", "open"}
    assert {stage for what, _, stage in found if what == "check"} == {"heads_up", "open", "last_call"}


TWO = replace(ONE, id="two", number=2)
THREE = replace(ONE, id="three", number=3)
SPACED = {"one": timedelta(0), "two": 45 * MINUTE, "three": 3 * HOUR}


def missed(*loads: HandLoad) -> set[str]:
    found = derived(*loads, **SPACED)
    assert {subject for what, subject, stage in found if (what, stage) == ("texture", "open")} <= {
        subject for what, subject, stage in found if (what, stage) == ("texture", "last_call")
    }, "whoever ticks or not, the last call comes"
    return {subject for what, subject, stage in found if (what, stage) == ("texture", "missed")}


def test_of_loads_with_nothing_ticked_only_the_first_is_called_missed() -> None:
    assert missed(ONE, TWO, THREE) == {"load-1"}
    assert missed(replace(ONE, begun=True), TWO, THREE) == {"load-1", "load-2"}
    assert missed(ONE, replace(TWO, begun=True), THREE) == {"load-1", "load-2"}
    assert missed(replace(ONE, begun=True, textured=True), TWO, THREE) == {"load-2"}


def test_a_load_that_nobody_could_tick_does_not_take_the_missed_of_the_next() -> None:
    found = derived(replace(ONE, can_be_ticked=False), TWO, one=timedelta(0), two=45 * MINUTE)
    assert ("texture", "load-2", "missed") in found


def test_a_load_with_nothing_ticked_is_over_once_a_later_one_is_textured() -> None:
    done = replace(TWO, begun=True, textured=True)
    found = derived(ONE, done, THREE, **SPACED)
    assert {subject for _, subject, _ in found} == {"load-3"}
    begun = derived(replace(ONE, begun=True), done, THREE, **SPACED)
    assert ("texture", "load-1", "last_call") in begun, "a bay that a crew that ticks left open is real"
    earlier = derived(ONE, done, one=45 * MINUTE, two=timedelta(0))
    assert ("texture", "load-1", "last_call") in earlier, "the one that opened later is not over"


def test_a_missed_texture_says_that_it_may_just_not_be_ticked() -> None:
    telling = Telling.of(
        derived()["texture", "load-1", "missed"], "Harbor patio", "America/Chicago", None, CLOSES
    )
    assert [title(telling, language) for language in LANGUAGES] == [
        "Harbor patio: texture, load 1, not ticked by its end",
        "Harbor patio: textura, carga 1, sin marcar al terminar",
    ]
    assert "Done? Tick it." in body(telling, "en")
    assert "¿Ya está? Márquela." in body(telling, "es")


def test_one_load_written_down_twice_is_told_once_on_the_safe_side() -> None:
    twice = derived(ONE, replace(ONE, id="again"), one=timedelta(0), again=10 * MINUTE)
    assert {subject for _, subject, _ in twice} == {"load-1"}
    assert twice["texture", "load-1", "open"].due == TEXTURE


def test_a_load_without_a_ticket_is_told_without_a_number() -> None:
    assert {subject for _, subject, _ in derived(replace(ONE, number=None))} == {""}


@pytest.mark.parametrize(
    "known", [None, {"loads": [{"id": "one", "windows": {"texture": None}}], "slots": {}}]
)
def test_without_a_window_nothing_is_told_of_it(known: dict[str, Any] | None) -> None:
    specs = derive(facts(hand_loads=(ONE,)), known)
    assert not {spec.what for spec in specs} & {"check", "texture"}


def test_nothing_once_the_job_is_closed() -> None:
    assert derive(facts(hand_loads=(ONE,), closed=True), timeline(one=timedelta(0))) == []


# Delivered, escalated, withdrawn


@pytest.fixture
def people(scene: Scene, foreman: Joined, join: Join) -> dict[str, Joined]:
    """The foreman's phone "lead", a desk, Ben who leads the crew, and Cal of the crew."""
    found = {"office": join("office")}
    scene.subscribe(found["office"], "desk")
    for name in ("ben", "cal"):
        found[name] = join("crew", name=name)
        scene.subscribe(found[name], name)
    return found


def standing(
    scene: Scene, now: datetime, lead: Joined | None, load: HandLoad = ONE, **later: timedelta
) -> None:
    """What the worker keeps of hand work alone."""
    known = facts(hand_loads=(load,))
    told = timeline(**later) if later else timeline(one=timedelta(0))
    specs = [spec for spec in derive(known, told) if spec.what in ("check", "texture")]
    notebook: dict[str, Any] = {"name": known.name, "time_zone": known.time_zone, "begun": begun_works(specs)}
    notebook |= {"ahead": sorted({f"{spec.what}/{spec.subject}" for spec in specs})}
    notebook |= {"lead": lead.person if lead else None}
    with scene.app.app_context(), write() as session:
        mark = session.get(JobMark, (scene.company, known.job))
        if mark is None:
            mark = JobMark(company_id=scene.company, job=known.job, dirty=False, version=1)
            session.add(mark)
        mark.state = notebook
        session.flush()
        upsert(session, scene.company, known.job, notebook, specs, {}, now)


def heard(scene: Scene) -> list[tuple[str, str]]:
    """Who heard what, in order: phone, and the work with its stage."""
    return [
        (
            one.phone,
            one.message["notification"]["title"].removeprefix("Harbor patio: ").replace(", load 1", ""),
        )
        for one in scene.service.arrived
    ]


def test_a_whole_texture_that_nobody_answers_goes_from_lead_to_foreman_to_office(
    scene: Scene, people: dict[str, Joined]
) -> None:
    standing(scene, TEXTURE - HOUR, people["ben"], replace(ONE, checked_at=EDGES))
    for minutes in range(-60, 260, 2):
        scene.tick(TEXTURE + minutes * MINUTE)
    told = heard(scene)
    assert told[:2] == [("ben", "texture, coming up"), ("ben", "texture, open now")]
    of_open = [phone for phone, title in told if title == "texture, open now"]
    assert of_open == ["ben", "lead", "desk"]
    of_last = [phone for phone, title in told if title == "texture, last call"]
    assert (sorted(of_last[:2]), of_last[2:]) == (["ben", "lead"], ["desk"])
    assert [phone for phone, title in told if title == "texture, not ticked by its end"] == ["lead"]
    assert "cal" not in {phone for phone, _ in told}, "Cal did nothing on this job today"


def test_a_check_that_nobody_makes_goes_to_the_foreman_and_never_to_a_desk(
    scene: Scene, people: dict[str, Joined]
) -> None:
    standing(scene, EDGES - HOUR, people["ben"])
    for minutes in range(-60, 55, 2):
        scene.tick(EDGES + minutes * MINUTE)
    checks = [(phone, title) for phone, title in heard(scene) if "check" in title]
    opened = [phone for phone, title in checks if title == "surface check, open now"]
    assert opened == ["ben", "lead"]
    assert sorted(phone for phone, title in checks if title == "surface check, last call") == ["ben", "lead"]
    assert "desk" not in {phone for phone, _ in checks}


def test_a_crew_that_begins_is_left_in_peace(scene: Scene, people: dict[str, Joined]) -> None:
    standing(scene, TEXTURE - HOUR, people["ben"], replace(ONE, checked_at=EDGES))
    scene.tick(TEXTURE)
    assert heard(scene)[-1] == ("ben", "texture, open now")
    standing(scene, TEXTURE + 5 * MINUTE, people["ben"], replace(ONE, begun=True))
    for minutes in range(5, 60, 5):
        scene.tick(TEXTURE + minutes * MINUTE)
    assert heard(scene)[-1] == ("ben", "texture, open now"), "an opening answered by work is not passed on"


def test_a_texture_that_moves_is_told_again_as_moved(scene: Scene, people: dict[str, Joined]) -> None:
    standing(scene, TEXTURE - HOUR, people["ben"], replace(ONE, checked_at=EDGES))
    scene.tick(TEXTURE - 30 * MINUTE)
    later = replace(ONE, checked_at=EDGES + 60 * MINUTE)
    standing(scene, TEXTURE - 25 * MINUTE, people["ben"], later, one=40 * MINUTE)
    scene.tick(TEXTURE - 25 * MINUTE)
    assert heard(scene) == [("ben", "texture, coming up")] * 2
    assert scene.service.arrived[1].message["notification"]["body"].startswith("Moved from ")


def test_quiet_hours_hold_the_heads_up_of_a_night_pour_and_nothing_else(
    scene: Scene, people: dict[str, Joined]
) -> None:
    night = timedelta(hours=15)  # texture from 1:00 am
    load = replace(ONE, checked_at=EDGES + night)
    standing(scene, TEXTURE + night - 2 * HOUR, people["ben"], load, one=night)
    for minutes in range(-120, 30, 5):
        scene.tick(TEXTURE + night + minutes * MINUTE)
    assert [title for _, title in heard(scene)] == ["texture, open now"] * (1 + 1)


# From the log


@pytest.fixture
def poured(app: Any, client: Any, sync: Any, join: Join) -> Any:
    yield Patio(app, client, sync, join("foreman", name="Ana")).poured()
    worker.close(app)


def stored(patio: Patio, what: str) -> dict[tuple[str, str], Reminder]:
    with patio.app.app_context(), read() as session:
        rows = session.scalars(select(Reminder).where(Reminder.job == patio.job, Reminder.what == what))
        return {(row.subject, row.stage): row for row in rows}


def bay(patio: Patio, number: int) -> str:
    name = f"{number}1111111-1111-4111-8111-111111111111"
    corners = [[0, 0], [4, 0], [4, 6.5], [0, 6.5]] if number == 1 else [[4, 0], [8, 0], [8, 6.5], [4, 6.5]]
    body = {"bay": name, "label": "AB"[number - 1], "corners": corners, "order": number}
    patio.record("bay.drawn", body | {"load": patio.loads[number - 1]})
    return name


def test_the_log_of_a_pour_is_reminded_of_load_by_load_and_settled_by_its_marks(poured: Patio) -> None:
    first, second = bay(poured, 1), bay(poured, 2)
    now = FIRST_BATCH + 90 * MINUTE
    poured.tick(now)
    texture, checks = stored(poured, "texture"), stored(poured, "check")
    assert {subject for subject, _ in texture} == {subject for subject, _ in checks} == {"load-1", "load-2"}
    told = {load["id"]: load["windows"] for load in poured.mine()["timeline"]["loads"]}
    opens = read_instant(told[poured.loads[0]]["texture"]["opens"]["likely"])
    assert texture["load-1", "open"].due == opens.replace(second=0)
    begun = opens + 5 * MINUTE
    poured.record("bay.worked", {"bay": first, "step": "texture", "mark": "start"}, begun)
    poured.tick(begun + MINUTE)
    assert stored(poured, "texture")["load-1", "open"].state == "cancelled"
    assert stored(poured, "check")["load-1", "last_call"].state == "cancelled"
    assert stored(poured, "texture")["load-1", "missed"].state == "planned"
    for name in (first, second):
        poured.record("bay.worked", {"bay": name, "step": "texture", "mark": "start"}, begun + 10 * MINUTE)
        poured.record("bay.worked", {"bay": name, "step": "texture", "mark": "end"}, begun + 20 * MINUTE)
    poured.tick(begun + 21 * MINUTE)
    states = {row.state for what in ("texture", "check") for row in stored(poured, what).values()}
    assert not states & {"planned", "due"}


@pytest.mark.parametrize(
    ("kind", "body"),
    [
        ("bay.worked", {"step": "touch_up", "mark": "start"}),
        ("cut.tested", {"result": "clean", "saw": "conventional"}),
        ("cut.made", {"length_m": 4, "saw": "conventional"}),
        ("wash.done", {"contained": True}),
        ("stage.reached", {"phase": "next_days"}),
    ],
)
def test_work_that_comes_after_texturing_ends_its_calls_though_nobody_ticked(
    poured: Patio, kind: str, body: dict[str, Any]
) -> None:
    first, _ = bay(poured, 1), bay(poured, 2)
    opens = stored_opening(poured)
    poured.record(kind, body | ({"bay": first} if kind == "bay.worked" else {}), opens + 30 * MINUTE)
    poured.tick(opens + 31 * MINUTE)
    states = {
        stage: row.state for (subject, stage), row in stored(poured, "texture").items() if subject == "load-1"
    }
    assert states["last_call"] == states["missed"] == "cancelled"


def test_a_test_cut_ends_the_texturing_of_its_own_load_alone(poured: Patio) -> None:
    first, _ = bay(poured, 1), bay(poured, 2)
    opens = stored_opening(poured)
    cut = {"result": "ravels", "saw": "early-entry", "bay": first}
    poured.record("cut.tested", cut, opens + 30 * MINUTE)
    poured.tick(opens + 31 * MINUTE)
    rows = stored(poured, "texture")
    assert rows["load-1", "last_call"].state == "cancelled"
    assert rows["load-2", "last_call"].state == "planned"


def stored_opening(patio: Patio) -> datetime:
    """When the first load likely opens to the mats, once its reminders stand."""
    patio.tick(FIRST_BATCH + 90 * MINUTE)
    return stored(patio, "texture")["load-1", "open"].due


def test_the_board_shows_texture_as_next_and_never_a_check(poured: Patio) -> None:
    now = FIRST_BATCH + 90 * MINUTE
    poured.tick(now)
    with poured.app.app_context(), read() as session:
        mark = session.get(JobMark, (poured.foreman.company, poured.job))
        rows = session.scalars(select(Reminder).where(Reminder.job == poured.job)).all()
    assert mark is not None
    ahead = (mark.state or {})["ahead"]
    assert {"check/load-1", "texture/load-1"} <= set(ahead)
    coming = next_of(rows, ahead, now)
    assert coming is not None
    assert coming["what"] == "saw", "without bays nobody could ever tick it"
    for number in (1, 2):
        bay(poured, number)
    poured.tick(now)
    with poured.app.app_context(), read() as session:
        rows = session.scalars(select(Reminder).where(Reminder.job == poured.job)).all()
    coming = next_of(rows, ahead, now)
    assert coming is not None
    assert coming["what"] == "texture"
