"""Whatever part of a log has arrived, both forms come out."""

from dataclasses import replace

from hypothesis import given, settings
from hypothesis import strategies as st
from tests.office.record.reading import reader_of
from tests.office.record.whole_job import AFTER, ANA, LAID_OUT, POURED, TIMELINE, hours, source

from slabtide.office.record.build import build_record
from slabtide.office.record.contract import READERS, SYSTEMS, Asked

ALL = LAID_OUT + POURED + AFTER
PARTS = st.lists(st.sampled_from(range(len(ALL))), unique=True)
ANY = st.text(st.characters(exclude_categories=["Cs"]), min_size=1, max_size=300)


@settings(deadline=None, max_examples=60)
@given(parts=PARTS, reader=st.sampled_from(READERS), system=st.sampled_from(SYSTEMS))
def test_any_part_of_the_log_makes_a_record(parts: list[int], reader: str, system: str) -> None:
    made = source([ALL[part] for part in sorted(parts)], timeline=TIMELINE, hours=tuple(hours()))
    data = build_record(made, Asked(reader, "es", system))  # type: ignore[arg-type]
    assert len(reader_of(data).pages) >= 1


@settings(deadline=None, max_examples=40)
@given(text=ANY)
def test_any_words_print_or_are_marked(text: str) -> None:
    notes = [("note.written", 300, ANA, {"text": text})]
    made = replace(source(LAID_OUT + notes), people={ANA: text}, company=text)
    pages = reader_of(build_record(made, Asked("file"))).pages
    assert all(page.extract_text() is not None for page in pages)


def test_sides_and_bays_that_are_gone_are_named_as_such() -> None:
    triangle = LAID_OUT[1][3] | {"corners": [[0, 0], [4, 0], [0, 4]], "abutting": []}
    joint = ("joint.checked", 0.0, ANA, {"edge": 5, "full_depth": True, "continuous": True})
    made = source([*LAID_OUT, ("slab.outlined", 1.0, ANA, triangle), joint, POURED[7], POURED[-1]])
    text = " ".join(page.extract_text() for page in reader_of(build_record(made, Asked("file"))).pages)
    assert "Side 6" in text
    assert "a load taken back" in text
