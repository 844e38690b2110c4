"""The care card goes by what was set for the job; what was not says that it is common practice."""

from typing import Any

import pytest
from tests.office.record.reading import text_of
from tests.office.record.whole_job import AFTER, ANA, LAID_OUT, POURED, source

from slabtide.office.record.build import build_record
from slabtide.office.record.care import care_for
from slabtide.office.record.contract import Asked


def card(body: dict[str, Any] | None, language: Any = "en") -> str:
    made = [] if body is None else [("care.set", 9000.0, ANA, body)]
    text = text_of(build_record(source(LAID_OUT + POURED + AFTER + made), Asked("owner", language, "us")))
    return text[text.index("Care card" if language == "en" else "Tarjeta de cuidado") :]


def test_nothing_set_is_common_practice_and_says_so() -> None:
    text = card(None)
    assert "from July 15, 2026 (1 day after placing) · common practice" in text
    assert text.count("common practice") == 9  # eight rows and the line above them


def test_hours_set_are_told_with_their_time_and_days_as_days() -> None:
    text = card({"walk_h": 36, "drive_h": 336, "wash_days": 14, "reseal_months": 18})
    assert "from July 15, 2026, 8:13 pm (36 h after placing)" in text
    assert "from July 28, 2026 (14 days)" in text
    assert "from August 1, 2026 (14 days after the last coat)" in text
    assert "every 18 months, about 2028 for the first time" in text
    assert text.count("common practice") == 5


def test_one_year_is_said_as_one_year_in_both_languages() -> None:
    assert "every 1 year, about 2027" in card({"reseal_months": 12})
    assert "cada 1 año; la primera vez hacia 2027" in card({"reseal_months": 12}, "es")


@pytest.mark.parametrize(("walk_h", "drive_h"), [(300, None), (24, 800), (200, 100)])
def test_what_carries_more_never_waits_less(walk_h: float, drive_h: float | None) -> None:
    made = [("care.set", 9000.0, ANA, {"walk_h": walk_h, "drive_h": drive_h})]
    care = care_for(source(LAID_OUT + made).view)
    assert care.walk_h == walk_h
    assert care.furniture_h >= care.walk_h
    assert care.heavy_h >= care.drive_h
    assert drive_h is None or care.drive_h == drive_h
