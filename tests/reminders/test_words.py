"""Reminders speak plainly, times first, in both languages, with the caution where the work is done."""

from dataclasses import replace
from datetime import UTC, datetime, timedelta

import pytest

from slabtide.engine.slots import CODES
from slabtide.reminders.contract import LANGUAGES, STAGES, WHATS, Kept, When
from slabtide.reminders.words import Telling, body, in_every_language, title

CLOSE = datetime(2026, 7, 15, 2, 40, tzinfo=UTC)  # 9:40 pm in Chicago
LAST_CALL = Telling(
    job_name="Harbor patio",
    time_zone="America/Chicago",
    what="saw",
    subject="",
    stage="last_call",
    due=CLOSE - timedelta(minutes=35),
    opens=When(*[CLOSE - timedelta(hours=hours) for hours in (5, 4, 3)]),
    closes=When(CLOSE, CLOSE + timedelta(minutes=30), CLOSE + timedelta(minutes=60)),
    moved_from=None,
    at=CLOSE - timedelta(minutes=35),
)


def test_a_last_call_says_the_time_first_and_then_the_caution() -> None:
    assert body(LAST_CALL, "en") == (
        "Saw by 9:40 pm. 35 min left. Water on the blade, respirator as local rules ask."
    )
    assert body(LAST_CALL, "es") == (
        "Corte antes de las 9:40 p. m. Quedan 35 min. Agua en el disco y respirador según las reglas locales."
    )
    assert title(LAST_CALL, "en") == "Harbor patio: saw, last call"


def test_what_is_left_is_counted_when_it_is_read() -> None:
    late = replace(LAST_CALL, at=CLOSE - timedelta(minutes=10))
    assert "10 min left" in body(late, "en")


def test_one_oclock_is_singular_in_spanish_and_no_other_hour() -> None:
    def by(minutes_later: int) -> str:
        close = CLOSE + timedelta(minutes=minutes_later)
        return body(replace(LAST_CALL, closes=When(close, close, close)), "es")

    assert "antes de la 1:20 a. m." in by(220)
    assert "antes de las 12:20 a. m." in by(160)
    assert "antes de las 11:20 p. m." in by(100)


def test_another_day_is_named() -> None:
    read_before = replace(LAST_CALL, stage="heads_up", at=CLOSE - timedelta(hours=28))
    assert "Tue 5:40 pm" in body(read_before, "en")
    assert "del mar" in body(read_before, "es")


def test_a_moved_reminder_says_from_when() -> None:
    moved = replace(LAST_CALL, moved_from=LAST_CALL.due - timedelta(hours=1))
    assert body(moved, "en").startswith("Moved from 8:05 pm. Saw by 9:40 pm.")
    assert body(moved, "es").startswith("Cambió; antes 8:05 p. m.")


@pytest.mark.parametrize("what", WHATS)
@pytest.mark.parametrize("stage", STAGES)
@pytest.mark.parametrize("closes", [LAST_CALL.closes, None])
def test_every_work_and_stage_has_words_in_both_languages(what: str, stage: str, closes: When | None) -> None:
    telling = replace(
        LAST_CALL, what=what, stage=stage, closes=closes, subject="coat-2" if what == "seal" else ""
    )
    titles, bodies = in_every_language(telling)
    for language in LANGUAGES:
        assert titles[language].startswith("Harbor patio: ")
        assert "{" not in bodies[language]
        assert len(bodies[language]) < 220
        assert ".." not in bodies[language]
    assert titles["en"] != titles["es"]
    assert bodies["en"] != bodies["es"]


@pytest.mark.parametrize(
    ("what", "care"),
    [("saw", "respirator"), ("wash", "drain"), ("colour", "eye protection"), ("seal", "No flame")],
)
def test_the_usual_caution_stands_with_the_work(what: str, care: str) -> None:
    assert care in body(replace(LAST_CALL, what=what), "en")


def test_a_very_long_job_name_is_cut() -> None:
    assert len(title(replace(LAST_CALL, job_name="x" * 80), "en")) < 90


def kept(stage: str, why: str | None, next_best: bool = False) -> Telling:
    starts = CLOSE + timedelta(hours=12)
    lost = Kept(starts, starts + timedelta(hours=3), why, next_best)
    opens = starts + timedelta(days=1) if next_best else starts
    sealing = replace(LAST_CALL, what="seal", subject="coat-1", stage=stage, closes=None)
    return replace(sealing, opens=When(opens, opens, opens, lost))


def test_a_time_kept_is_told_with_its_end() -> None:
    assert body(kept("heads_up", None), "en").startswith("Seal, coat 1 Wed 9:40 am to 12:40 pm, as kept.")
    assert "como se apartó" in body(kept("heads_up", None), "es")


def test_a_time_kept_and_lost_says_which_why_and_the_next_best() -> None:
    said = body(kept("heads_up", "rain_after", next_best=True), "en")
    assert said.startswith(
        "Wed 9:40 am, the time you kept, no longer suits: rain too soon after. Next best Thu 9:40 am."
    )
    assert "No fit hours in sight yet." in body(kept("heads_up", "damp"), "en")
    assert "ya no sirve: lluvia poco después" in body(kept("heads_up", "rain_after", next_best=True), "es")


def test_every_reason_of_the_engine_has_words_in_both_languages() -> None:
    for code in CODES:
        for language in LANGUAGES:
            assert "suits: ." not in body(kept("heads_up", code), language).replace("sirve", "suits")
