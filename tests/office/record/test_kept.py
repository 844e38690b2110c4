"""What was kept is held against the forecast that stood at placing, and beside it the latest one."""

from dataclasses import replace
from typing import Any

from tests.office.record.reading import text_of
from tests.office.record.whole_job import LOAD_1, three, whole

from slabtide.office.record.build import build_record
from slabtide.office.record.contract import Asked
from slabtide.office.record.kept import told_in, windows_kept

THEN: dict[str, Any] = {LOAD_1: {"texture": {"opens": three(170), "closes": three(240)}, "saw": None}}


def test_both_forecasts_stand_in_the_file_each_with_its_own_verdict() -> None:
    source = replace(whole(), at_placing=THEN)
    then, last = windows_kept(source.view, THEN), windows_kept(source.view, told_in(source.timeline))
    then_min, last_min = round(then[0].early_min), round(last[0].early_min)
    text = text_of(build_record(source, Asked("file", "en", "metric")))
    assert then_min != last_min
    assert "at placing" in text
    assert "Told" in text
    assert f"began {then_min} min before it opened" in text


def test_a_forecast_worked_out_later_says_so() -> None:
    stood = replace(whole(), at_placing=THEN)
    later = replace(stood, afterwards=frozenset({LOAD_1}))
    told = [text_of(build_record(each, Asked("file", "en", "metric"))) for each in (stood, later)]
    assert ["worked out later, as of then" in text for text in told] == [False, True]
