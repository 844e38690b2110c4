"""The record says everything that is on record, in the reader's units and language."""

import time
import tracemalloc
from dataclasses import replace
from pathlib import Path
from typing import Any

import pytest
from PIL import Image
from tests.office.record.expected import FILE_METRIC, FILE_US, FILE_WORDS, OWNER_US
from tests.office.record.reading import reader_of, text_of
from tests.office.record.whole_job import (
    AFTER,
    ANA,
    BAY_A,
    JOB,
    LAID_OUT,
    LOAD_1,
    LUIS,
    PHOTO,
    POURED,
    ident,
    source,
    whole,
)

from slabtide.office.record import letters
from slabtide.office.record.build import build_record
from slabtide.office.record.contract import LANGUAGES, READERS, SYSTEMS, Asked


def said(made: bytes, *expected: str) -> list[str]:
    text = text_of(made)
    return [words for words in expected if words not in text]


def test_the_file_holds_every_number_in_metric_with_its_unit() -> None:
    assert said(build_record(whole(), Asked("file", "en", "metric")), *FILE_METRIC) == []


def test_the_file_holds_the_same_numbers_in_us_customary() -> None:
    assert said(build_record(whole(), Asked("file", "en", "us")), *FILE_US) == []


def test_the_owner_reads_what_when_in_what_weather_and_how_to_care_for_it() -> None:
    assert said(build_record(whole(), Asked("owner", "en", "us")), *OWNER_US) == []


def test_the_owner_is_not_shown_what_is_the_crews_own() -> None:
    text = text_of(build_record(whole(), Asked("owner", "en", "us")))
    assert [words for words in ("KB-77", "Thin texture", "Luis", JOB, "Gate code") if words in text] == []


def test_the_file_says_who_did_what_when_and_what_was_kept_of_the_times() -> None:
    assert said(build_record(whole(), Asked("file", "en", "metric")), *FILE_WORDS) == []


@pytest.mark.parametrize("reader", READERS)
def test_spanish_pages_hold_no_english_of_ours(reader: Any) -> None:
    text = text_of(build_record(whole(), Asked(reader, "es", "metric")))
    expected = {
        "owner": ("Su losa: Señor Núñez's patio", "martes, 14 de julio de 2026", "Tarjeta de cuidado"),
        "file": ("Expediente", "Flota larga", "Estadal", "Cimbra: 1 de", "sigue abierta"),
    }
    assert [words for words in expected[reader] if words not in text] == []
    english = ("Placed", "Weather", "Slab", "Load", "Color in", "not done", "Checklists", "Bay ", "on site")
    assert [words for words in english if words in text] == []


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("language", LANGUAGES)
@pytest.mark.parametrize("reader", READERS)
def test_the_same_log_gives_the_same_bytes(reader: Any, language: Any, system: Any) -> None:
    asked = Asked(reader, language, system)
    assert build_record(whole(), asked) == build_record(whole(), asked)


def test_the_documents_date_is_the_last_entrys() -> None:
    found = reader_of(build_record(whole(), Asked())).metadata
    assert found is not None
    assert found.creation_date == whole().last_at
    assert found.title == "Your slab: Señor Núñez's patio"


@pytest.mark.parametrize("reader", READERS)
@pytest.mark.parametrize("made", [LAID_OUT[:0], LAID_OUT[:1], LAID_OUT, LAID_OUT + POURED])
def test_a_job_that_is_not_far_yet_says_so_instead_of_failing(made: list[Any], reader: Any) -> None:
    text = text_of(build_record(source(made), Asked(reader, "en", "us")))
    assert ("No concrete has been placed yet" in text) == (reader == "owner" and len(made) <= len(LAID_OUT))
    assert "None" not in text
    assert "nan" not in text.replace("resultant", "")


def test_planned_windows_are_not_told_as_kept() -> None:
    text = text_of(build_record(replace(whole(), planned=True), Asked("file")))
    assert "No times were computed for what was placed" in text


@pytest.mark.parametrize("size", [(64, 48), (900, 1400)])
def test_photos_stand_in_the_record_with_their_numbers_and_missing_ones_are_said(
    tmp_path: Path, size: tuple[int, int]
) -> None:
    file = tmp_path / "one.jpg"
    Image.effect_noise(size, 90).convert("RGB").save(file)
    made = build_record(whole({PHOTO: file}), Asked("owner"))
    assert sum(len(page.images) for page in reader_of(made).pages) == 1
    assert (
        said(made, "Photo 1, Jul 14, 7:40 am: leaf, Debris 1, Bay West", "1 photo had not reached the server")
        == []
    )


def test_a_damaged_photo_is_counted_as_missing(tmp_path: Path) -> None:
    file = tmp_path / "bad.jpg"
    file.write_bytes(b"\xff\xd8 no picture")
    made = build_record(whole({PHOTO: file}), Asked("owner"))
    assert said(made, "2 photos had not reached the server") == []


NAMES = ["Łukasz Żółć", "Nguyễn Đức", "Сергей", "石川", "🏗️ crew", "a\x00b\tc\u202ed", "“quoted” – dashed…"]


@pytest.mark.parametrize("name", NAMES)
@pytest.mark.parametrize("installed", [True, False])
def test_names_in_any_script_print_or_are_marked(
    monkeypatch: pytest.MonkeyPatch, name: str, installed: bool
) -> None:
    if not installed:
        monkeypatch.setattr(letters, "REGULAR", Path("/nowhere"))
    made = build_record(replace(whole(), people={ANA: name, LUIS: name}), Asked("file"))
    text = text_of(made)
    kept = {
        "Łukasz Żółć": "Lukasz Zólc",
        "Nguyễn Đức": "Nguyen Duc",
        "“quoted” – dashed…": "“quoted” – dashed…",
    }
    if not installed and name in kept:
        assert kept[name] in text
    assert ("could not be printed" in text) == (
        name in ("石川", "🏗️ crew") or (name == "Сергей" and not letters.REGULAR.is_file())
    )


def huge(count: int) -> list[tuple[str, float, str, dict[str, Any]]]:
    checks = [
        (
            "check.made",
            120 + n / 10,
            LUIS,
            {"load": LOAD_1, "bay": BAY_A, "kind": "footprint", "depth_mm": n % 20},
        )
        for n in range(count)
    ]
    notes = [("note.written", 300 + n / 10, ANA, {"text": f"note {n} " + "long " * 30}) for n in range(count)]
    pins = [
        ("pin.dropped", 400 + n / 10, ANA, {"pin": ident(f"p{n}"), "spot": [n % 9, n % 5], "what": "other"})
        for n in range(count)
    ]
    return [*checks, *notes, *pins]


def test_two_thousand_entries_and_many_photos_take_seconds_and_bounded_memory(tmp_path: Path) -> None:
    file = tmp_path / "one.jpg"
    Image.effect_noise((1600, 1200), 60).convert("RGB").save(file, quality=80)
    photos = {f"{n:064x}": file for n in range(200)}
    taken = [("photo.taken", 700 + n, ANA, {"photo": name}) for n, name in enumerate(photos)]
    made = replace(source(LAID_OUT + POURED + huge(600) + taken + AFTER), photos=photos)
    tracemalloc.start()
    begins = time.process_time()
    data = build_record(made, Asked("file"))
    took_s, peak = time.process_time() - begins, tracemalloc.get_traced_memory()[1]
    tracemalloc.stop()
    assert took_s < 20  # about 4 s of one core; tracing doubles it
    assert peak < 120e6
    assert len(data) < 30e6
    assert said(data, "60 of 200 photos are shown", "note 599") == []
