"""The file keeps what was told of the first night, in the reader's units and language."""

from dataclasses import replace
from typing import Any

from tests.office.record.reading import text_of
from tests.office.record.whole_job import LOAD_1, whole

from slabtide.office.record.build import build_record
from slabtide.office.record.contract import Asked

AT = "2026-07-15T03:40:00Z"
NOTICE: dict[str, Any] = {
    **{"code": "first_night_drop", "load": LOAD_1, "from": AT, "to": AT, "text": ""},
    "params": {"case": "in_time", "peak_c": 38.2, "coldest_c": 12.1, "drop_k": 8.333},
}


def told(asked: Asked, warnings: list[dict[str, Any]]) -> str:
    source = whole()
    assert source.timeline is not None
    return text_of(build_record(replace(source, timeline={**source.timeline, "warnings": warnings}), asked))


def test_the_file_names_the_drop_of_the_surface() -> None:
    english = (
        "First night, load 1, as told last: the surface falls from 101 °F to 54 °F; by Jul 14, 11:40 pm it is"
    )
    assert f"{english} 15 °F under its peak." in told(Asked("file", "en", "us"), [NOTICE])
    spanish = "la superficie baja de 38 °C a 12 °C; el 14 jul, 11:40 pm está 8 °C por debajo de su máximo."
    assert spanish in told(Asked("file", "es", "metric"), [NOTICE])


def test_a_slab_that_keeps_warm_has_no_such_line() -> None:
    assert "First night" not in told(Asked("file", "en", "us"), [])
    assert "First night" not in told(Asked("file", "en", "us"), [{**NOTICE, "load": "of another pour"}])
