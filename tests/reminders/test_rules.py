"""When reminders are due: by the concrete for the saw, by daylight for the rest, by the job's own clock."""

from datetime import UTC, datetime, timedelta
from zoneinfo import ZoneInfo

import pytest
from tests.reminders.conftest import CLOSES, OPENS, PLACED, ZONE, facts, saw_timeline, when

from slabtide.reminders.contract import STAGES, Kept, Spec
from slabtide.reminders.kept import KeptTime
from slabtide.reminders.rules import derive, is_quiet, quiet_ends, working_time

HOUR = timedelta(hours=1)
CHICAGO = ZoneInfo(ZONE)


def by_stage(specs: list[Spec], what: str = "saw") -> dict[str, Spec]:
    return {spec.stage: spec for spec in specs if spec.what == what}


def test_the_saw_is_told_an_hour_before_at_the_opening_before_the_close_and_after_it() -> None:
    found = by_stage(derive(facts(), saw_timeline()))
    early_close = CLOSES - timedelta(minutes=40)
    assert found["heads_up"].due == OPENS - HOUR
    assert found["open"].due == OPENS
    assert found["last_call"].due == early_close - timedelta(minutes=45 + 22)
    assert found["missed"].due == CLOSES
    assert {spec.expires for spec in found.values()} == {CLOSES + 12 * HOUR}


def test_the_saw_window_is_the_safe_side_of_all_loads() -> None:
    timeline = saw_timeline()
    later = {"opens": when(OPENS + HOUR), "closes": when(CLOSES - HOUR)}
    timeline["loads"].append({"id": "2", "windows": {"saw": later}})
    found = by_stage(derive(facts(), timeline))
    assert found["open"].opens.likely == OPENS
    assert found["missed"].due == CLOSES - HOUR


def test_a_short_window_opens_early_but_never_before_the_early_time() -> None:
    found = by_stage(derive(facts(), saw_timeline(OPENS, OPENS + HOUR)))
    assert found["open"].due == OPENS - timedelta(minutes=40)
    assert found["open"].due < found["last_call"].due < found["missed"].due


def test_a_saw_window_without_a_close_has_no_last_call() -> None:
    timeline = saw_timeline()
    timeline["loads"][0]["windows"]["saw"]["closes"] = None
    assert set(by_stage(derive(facts(), timeline))) == {"heads_up", "open"}


def test_nothing_is_told_before_a_load_is_placed_or_once_the_job_is_closed() -> None:
    assert derive(facts(placed_to=()), saw_timeline()) == []
    assert derive(facts(closed=True), saw_timeline()) == []


def test_cuts_done_ends_sawing_and_leaves_washing() -> None:
    assert {spec.what for spec in derive(facts(cuts_done=True), saw_timeline())} == {"wash"}


def test_without_a_timeline_practice_speaks_for_the_saw_instead_of_silence() -> None:
    later = PLACED + HOUR
    found = by_stage(derive(facts(placed_to=(PLACED, later)), None))
    assert found["open"].due == PLACED + 4 * HOUR
    assert found["missed"].due == PLACED + 12 * HOUR


def test_a_timeline_without_a_saw_window_tells_of_none() -> None:
    assert by_stage(derive(facts(), {"loads": [{"id": "1", "windows": {"saw": None}}], "slots": {}})) == {}


def with_practice(opens: datetime, closes: datetime) -> dict[str, object]:
    return {"opens": opens.isoformat(), "closes": closes.isoformat(), "surface_drop": None, "source": "x"}


def test_practice_closes_the_saw_where_it_is_sooner_than_the_models() -> None:
    timeline = saw_timeline()
    timeline["loads"][0]["saw_practice"] = with_practice(OPENS, CLOSES - HOUR)
    assert by_stage(derive(facts(), timeline))["missed"].due == CLOSES - HOUR
    timeline["loads"][0]["saw_practice"] = with_practice(OPENS, CLOSES + 9 * HOUR)
    assert by_stage(derive(facts(), timeline))["missed"].due == CLOSES


def test_where_practice_is_over_before_a_saw_can_cut_two_hours_are_left_to_cut_at_once() -> None:
    timeline = saw_timeline(OPENS, OPENS + 20 * HOUR)
    timeline["loads"][0]["saw_practice"] = with_practice(OPENS - 6 * HOUR, OPENS - 3 * HOUR)
    found = by_stage(derive(facts(), timeline))
    assert found["missed"].due == OPENS + 2 * HOUR
    assert found["open"].due <= found["last_call"].due < found["missed"].due


def test_a_load_without_a_saw_window_is_sawn_by_practice() -> None:
    load = {"id": "1", "windows": {"saw": None}, "saw_practice": with_practice(OPENS, CLOSES)}
    found = by_stage(derive(facts(), {"loads": [load], "slots": {}}))
    assert found["open"].opens.likely == OPENS
    assert found["missed"].due == CLOSES


def test_without_a_timeline_washing_still_follows_from_its_least_age() -> None:
    found = by_stage(derive(facts(), None), "wash")
    assert found["open"].due == PLACED + 24 * HOUR
    assert found["open"].opens.likely == PLACED + 24 * HOUR


def test_washing_waits_for_the_engine_where_it_says_later() -> None:
    timeline = saw_timeline()
    timeline["loads"][0]["windows"]["wash"] = {"opens": when(PLACED + 30 * HOUR), "closes": None}
    found = by_stage(derive(facts(), timeline), "wash")
    assert found["open"].due == PLACED + 30 * HOUR


def test_washing_waits_for_weather_that_suits() -> None:
    timeline = saw_timeline()
    starts = (PLACED + 26 * HOUR).isoformat()
    timeline["slots"] = {"wash": [{"from": starts, "to": starts, "reason": "dry"}]}
    assert by_stage(derive(facts(), timeline), "wash")["open"].due == PLACED + 26 * HOUR


def test_washed_opens_colour_after_a_day_of_drying() -> None:
    washed = PLACED + 48 * HOUR
    found = by_stage(derive(facts(washed_at=washed, cuts_done=True), saw_timeline()), "colour")
    assert found["open"].due == washed + 24 * HOUR
    assert set(found) == {"heads_up", "open"}


def test_sealing_waits_28_days_where_nothing_better_is_known() -> None:
    known = facts(washed_at=PLACED + 48 * HOUR, coloured_at=PLACED + 72 * HOUR, cuts_done=True)
    found = by_stage(derive(known, None), "seal")
    assert found["open"].due == PLACED + timedelta(days=28)
    assert found["open"].subject == "coat-1"


def test_the_second_coat_follows_the_first_and_then_all_is_done() -> None:
    first = PLACED + timedelta(days=28)
    (open_,) = [s for s in derive(facts(coats_at=(first,), cuts_done=True), None) if s.stage == "open"]
    assert (open_.what, open_.subject, open_.due) == ("seal", "coat-2", first + 4 * HOUR)
    assert derive(facts(coats_at=(first, first + 4 * HOUR), cuts_done=True), None) == []


def test_day_work_falls_in_working_hours_and_is_announced_the_evening_before() -> None:
    placed = datetime(2026, 7, 15, 1, 0, tzinfo=UTC)  # 8:00 pm in Chicago
    found = by_stage(derive(facts(placed_to=(placed,)), None), "wash")
    assert found["open"].due.astimezone(CHICAGO).isoformat() == "2026-07-16T06:30:00-05:00"
    assert found["heads_up"].due.astimezone(CHICAGO).isoformat() == "2026-07-15T18:00:00-05:00"


@pytest.mark.parametrize(
    ("opens_local", "told_local"),
    [
        ("2026-07-14T20:30", "2026-07-14T19:30"),
        ("2026-07-15T06:45", "2026-07-15T06:00"),  # 5:45 is quiet: held to the end of the night
        ("2026-07-15T02:00", "2026-07-14T20:45"),  # held it would come too late: told before the night
        ("2026-07-14T23:30", "2026-07-14T20:45"),
    ],
)
def test_quiet_hours_hold_a_heads_up_and_never_the_opening(opens_local: str, told_local: str) -> None:
    opens = datetime.fromisoformat(opens_local).replace(tzinfo=CHICAGO).astimezone(UTC)
    found = by_stage(derive(facts(), saw_timeline(opens, opens + 6 * HOUR)))
    told = found["heads_up"].due.astimezone(CHICAGO)
    assert told.isoformat(timespec="minutes")[:16] == told_local
    assert found["open"].due == opens


@pytest.mark.parametrize("zone", ["America/Chicago", "America/New_York"])
@pytest.mark.parametrize("day", ["2026-03-08", "2026-11-01"])
def test_on_both_switch_days_every_stage_comes_once_and_in_order(zone: str, day: str) -> None:
    midnight = datetime.fromisoformat(day).replace(tzinfo=ZoneInfo(zone)).astimezone(UTC)
    for hour in range(24):
        opens = midnight + hour * HOUR
        specs = derive(facts(time_zone=zone), saw_timeline(opens, opens + 5 * HOUR))
        saw = [spec for spec in specs if spec.what == "saw"]
        assert [spec.stage for spec in saw] == list(STAGES)
        dues = [spec.due for spec in saw]
        assert dues == sorted(dues)
        assert len(set(dues)) == len(dues)
        assert saw[1].due == opens


@pytest.mark.parametrize("day", ["2026-03-08", "2026-11-01"])
def test_quiet_hours_and_working_hours_follow_the_wall_clock_on_switch_days(day: str) -> None:
    night = datetime.fromisoformat(f"{day}T00:30").replace(tzinfo=CHICAGO).astimezone(UTC)
    assert is_quiet(night, CHICAGO)
    assert quiet_ends(night, CHICAGO).astimezone(CHICAGO).isoformat()[:16] == f"{day}T06:00"
    assert working_time(night, CHICAGO).astimezone(CHICAGO).isoformat()[:16] == f"{day}T06:30"


def test_only_the_saws_last_call_reaches_the_crew_and_only_its_miss_the_office() -> None:
    told = {(s.what, s.stage): s.audience for s in derive(facts(), saw_timeline())}
    assert told["saw", "last_call"] == ("foreman", "crew")
    assert told["saw", "missed"] == ("foreman", "office")
    assert {told["saw", "open"], told["wash", "last_call"], told["wash", "missed"]} == {("foreman",)}


KEPT = KeptTime("seal", 1, PLACED + 50 * HOUR, PLACED + 54 * HOUR)


def with_days(out: list[dict[str, object]], next_best: datetime | None) -> dict[str, object]:
    hours = {"from": KEPT.starts.isoformat(), "to": KEPT.ends.isoformat()}
    best = next_best and {"from": next_best.isoformat(), "to": (next_best + 3 * HOUR).isoformat()}
    kept = hours | {"out": out, "known": True, "next_best": best}
    works = [{"work": "seal", "coat": 1, "kept": kept}]
    return saw_timeline() | {"days_ahead": {"works": works}}


def sealing(timeline: dict[str, object] | None) -> dict[str, Spec]:
    known = facts(washed_at=PLACED + 24 * HOUR, cuts_done=True, kept_times=(KEPT,))
    return by_stage(derive(known, timeline), "seal")


def test_a_time_that_was_kept_is_the_opening_and_is_announced_the_evening_before() -> None:
    for timeline in (None, with_days([], None)):
        found = sealing(timeline)
        assert found["open"].due == KEPT.starts
        assert found["heads_up"].due < KEPT.starts
        assert found["open"].opens.kept == Kept(KEPT.starts, KEPT.ends)


def test_a_time_kept_that_no_longer_suits_gives_way_to_the_next_best_and_says_why() -> None:
    rained = [{"from": "", "to": "", "why": [{"code": "rain_after"}, {"code": "damp"}]}]
    best = KEPT.starts + 24 * HOUR
    found = sealing(with_days(rained, best))
    assert found["open"].due == best
    assert found["open"].opens.kept == Kept(KEPT.starts, KEPT.ends, "rain_after", True)
    nowhere = sealing(with_days(rained, None))
    assert nowhere["open"].opens.kept == Kept(KEPT.starts, KEPT.ends, "rain_after", False)


def test_the_plan_of_the_cuts_sets_the_last_call() -> None:
    start_by = CLOSES - timedelta(minutes=95)
    timeline = saw_timeline() | {"saw_plan": {"start_by": start_by.isoformat()}}
    assert by_stage(derive(facts(), timeline))["last_call"].due == start_by - timedelta(minutes=45)


def test_the_sealers_label_says_how_many_coats_how_far_apart_and_from_what_age() -> None:
    first = PLACED + timedelta(days=3)
    told = facts(coats_at=(first, first + HOUR), cuts_done=True, coats_wanted=3, recoat_after=6 * HOUR)
    (open_,) = [spec for spec in derive(told, None) if spec.stage == "open"]
    assert (open_.subject, open_.due) == ("coat-3", first + 7 * HOUR)
    young = facts(washed_at=PLACED + 24 * HOUR, cuts_done=True, seal_age=timedelta(hours=72))
    assert by_stage(derive(young, None), "seal")["open"].due == PLACED + 72 * HOUR
