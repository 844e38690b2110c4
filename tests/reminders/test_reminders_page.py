"""docs/reminders.md says what the code does: each kind and stage, when, to whom, how long, in which words."""

from dataclasses import replace
from datetime import timedelta
from zoneinfo import ZoneInfo

import pytest
from tests.reminders import rules_page
from tests.reminders.conftest import ZONE, facts
from tests.reminders.rules_page import HOUR, MINUTE, PAGE, Row, a_day, by, moment, rows, table

from slabtide.reminders import hand_work, rules
from slabtide.reminders.contract import STAGES, WHATS, send_until
from slabtide.reminders.dispatch import URGENT
from slabtide.reminders.escalate import NOT_FOR_THE_OFFICE, WAITS
from slabtide.reminders.first_told import first_told
from slabtide.reminders.outbox import LEASE
from slabtide.reminders.plan import MOVED_BY, plan
from slabtide.reminders.snooze import MAY_WAIT
from slabtide.reminders.words import Telling, body

RULES, WORDS = rows("The rules"), rows("The words")
DAY = a_day()
PEOPLE = [("lead", "crew"), ("hand", "crew"), ("foreman", "foreman"), ("desk", "office")]
FIRST = {
    "lead": {"lead"},
    "foremen, lead": {"foreman", "lead"},
    "crew of the job, foremen": {"lead", "hand", "foreman"},
    "foremen": {"foreman"},
    "foremen, office": {"foreman", "desk"},
}


def named(row: Row) -> str:
    return f"{row.what} {row.stage}"


def opened(row: Row):  # type: ignore[no-untyped-def]
    return DAY[row.what, "open"].due


def test_both_tables_hold_every_kind_and_stage_there_is_and_no_other() -> None:
    there = [key for what in WHATS for stage in STAGES if (key := (what, stage)) in DAY]
    assert [(row.what, row.stage) for row in RULES] == there
    assert [(row.what, row.stage) for row in WORDS] == there
    without_close = {(what, stage) for what in ("colour", "seal") for stage in ("last_call", "missed")}
    assert {(what, stage) for what in WHATS for stage in STAGES} - set(there) == without_close


@pytest.mark.parametrize("row", RULES, ids=named)
def test_it_is_due_and_runs_out_when_the_page_says(row: Row) -> None:
    spec = DAY[row.what, row.stage]
    due = moment(row.cells["due"], spec, opened(row))
    if row.what in ("wash", "colour", "seal"):
        zone = ZoneInfo(ZONE)
        before = row.stage == "last_call"
        due = rules.working_time_before(due, zone) if before else due
        due = rules.working_time(due, zone) if row.stage in ("open", "missed") else due
    assert spec.due == due
    assert spec.expires == moment(row.cells["runs out"], spec, opened(row))


@pytest.mark.parametrize("row", RULES, ids=named)
def test_a_push_of_it_lives_as_long_as_the_page_says(row: Row) -> None:
    spec = DAY[row.what, row.stage]
    until = min(send_until(spec.stage, spec.opens, spec.closes, spec.expires), spec.expires)
    assert until == moment(row.cells["push lives until"], spec, opened(row))
    assert (row.stage in URGENT) == (row.cells["urgency"] == "high")


@pytest.mark.parametrize("row", RULES, ids=named)
def test_it_goes_first_to_those_the_page_names(row: Row) -> None:
    audience = DAY[row.what, row.stage].audience
    told = first_told(row.what, row.stage, audience, "lead", PEOPLE, lambda: {"hand"})
    assert told == FIRST[row.cells["told first"]]


@pytest.mark.parametrize("row", RULES, ids=named)
def test_unanswered_it_waits_and_goes_on_as_the_page_says(row: Row) -> None:
    wait = WAITS.get((row.what, row.stage))
    said = row.cells["unanswered"]
    assert (wait is None) == (said == "–")
    if wait is not None:
        after, *to = said.split(", ")
        assert by(f"+ {after}") == wait
        assert to == (["foremen"] if row.what in NOT_FOR_THE_OFFICE else ["foremen", "office"])


def test_what_waits_for_an_answer_is_on_the_page_or_can_not_come_up() -> None:
    assert {key for key in WAITS if key not in DAY} == {("colour", "last_call"), ("seal", "last_call")}


@pytest.mark.parametrize("row", RULES, ids=named)
def test_quiet_hours_hold_it_and_it_can_be_put_off_where_the_page_says(row: Row) -> None:
    spec = DAY[row.what, row.stage]
    night = spec.due.replace(hour=8, minute=0) + timedelta(days=(spec.due.hour >= 8))  # 3:00 am in Chicago
    at_night = replace(spec, expires=night + HOUR)
    state = plan({}, [at_night], {}, night, ZoneInfo(ZONE))[row.what, spec.subject, row.stage].state
    assert state == {"yes": "planned", "no": "due"}[row.cells["held by quiet hours"]]
    assert (row.stage in MAY_WAIT) == (row.cells["may be put off"] == "yes")


@pytest.mark.parametrize("row", WORDS, ids=named)
def test_the_words_are_those_that_are_sent(row: Row) -> None:
    spec = DAY[row.what, row.stage]
    telling = Telling.of(spec, facts().name, ZONE, None, spec.due)
    assert (row.cells["English"], row.cells["Spanish"]) == (body(telling, "en"), body(telling, "es"))


def test_the_times_in_the_text_are_the_settings() -> None:
    text = " ".join(PAGE.read_text().split())
    told = [
        f"From {rules.QUIET_FROM:%H:%M} to {rules.QUIET_TO.hour}:00 by the job's clock",
        f"at {rules.BEFORE_QUIET:%H:%M} the evening before",
        f"{rules.WORK_FROM.hour}:{rules.WORK_FROM.minute} to {rules.WORK_TO:%H:%M} by the job's clock",
        f"moves by more than {MOVED_BY // MINUTE} minutes",
        f"opens {hand_work.NEW_START // MINUTE} minutes or more after",
        f"a check from {hand_work.CHECK_COUNTS_BEFORE // MINUTE} min before it on",
        f"never under {rules.CLOSING_LEAST // MINUTE} minutes nor over an hour",
        f"delivery runs out after {LEASE.seconds} s",
    ]
    assert [line for line in told if line not in text] == []
    assert rules.CLOSING_MOST == HOUR
    assert rules.LONGEST_CUT == 3 * HOUR
    assert rules.CLOSING_SHARE == 1 / 5


def test_the_page_would_be_seen_to_be_wrong() -> None:
    spec = DAY["saw", "last_call"]
    assert moment("early close − the cut − 45 min", spec, spec.due) == spec.due
    assert moment("early close − the cut − 44 min", spec, spec.due) != spec.due
    assert len(list(table("The rules"))) == len(RULES) == 20
    assert rules_page.KINDS.keys() == {line["kind"] for line in table("The rules")}
