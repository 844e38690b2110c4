"""The plan gives the slab's measures whatever its shape, at a scale that can be measured on."""

import math
from itertools import pairwise
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from tests.office.record.reading import reader_of, text_of
from tests.office.record.whole_job import LAID_OUT, source, whole

from slabtide.office.record.build import build_record
from slabtide.office.record.contract import SYSTEMS, Asked
from slabtide.office.record.kept import distance_m
from slabtide.office.record.scale import Extent, bar_lengths, best_ratio


def record_of(corners: list[list[float]]) -> bytes:
    """The metric record of a job that is only drawn."""
    body = LAID_OUT[1][3] | {"corners": corners}
    return build_record(
        source([LAID_OUT[0], ("slab.outlined", -2990, LAID_OUT[1][2], body)]), Asked("owner", "en", "metric")
    )


def round_slab(radius_m: float) -> list[list[float]]:
    turns = [2 * math.pi * n / 60 for n in range(60)]
    return [[radius_m * math.cos(turn), radius_m * math.sin(turn)] for turn in turns]


@pytest.mark.parametrize(
    ("corners", "lengths"),
    [
        ([[0, 0], [40, 0], [40, 1.2], [0, 1.2]], ["40 m", "1.2 m"]),  # a long narrow walk
        (
            [[0, 0], [8, 0], [8, 3.1], [5, 3.1], [5, 6.4], [0, 6.4]],
            ["8 m", "3.1 m", "3 m", "3.3 m", "5 m", "6.4 m"],
        ),
        ([[0, 0], [7, 4], [3, 11], [-4, 7]], ["8.062 m"]),
        (round_slab(5.5), ["11 m"]),
        ([[0, 0], [300, 0], [300, 200], [0, 200]], ["300 m", "200 m"]),
    ],
)
def test_every_side_has_its_length_or_the_whole_its_extent(
    corners: list[list[float]], lengths: list[str]
) -> None:
    text = text_of(record_of(corners))
    assert [words for words in lengths if f" {words} " not in f" {text} "] == []


spans = st.floats(0.3, 900)


@pytest.mark.parametrize("system", SYSTEMS)
@settings(deadline=None)
@given(wide=spans, high=spans)
def test_the_scale_is_the_largest_at_which_the_slab_fits(system: Any, wide: float, high: float) -> None:
    extent = Extent(0, 0, wide, high)
    ratio, _ = best_ratio(extent, 150, 100, system)
    assert wide * 1000 / ratio <= 150
    assert high * 1000 / ratio <= 100
    larger, _ = best_ratio(extent, 150 * 8, 100 * 8, system)
    assert larger <= ratio


@pytest.mark.parametrize("system", SYSTEMS)
@pytest.mark.parametrize("ratio", [20, 96, 250, 5000, 24000])
def test_the_scale_bar_is_even_and_fits_the_page(system: Any, ratio: float) -> None:
    lengths = [length for length, _ in bar_lengths(ratio, system)]
    steps = {round(after - before, 9) for before, after in pairwise(lengths)}
    assert (lengths[0], len(steps)) == (0, 1)
    assert lengths[-1] * 1000 / ratio <= 60


def test_a_spot_far_off_the_slab_stays_off_the_page() -> None:
    far = (
        "cut.made",
        700.0,
        LAID_OUT[0][2],
        {"length_m": 9, "saw": "conventional", "from": [900, 900], "to": [-900, 0]},
    )
    page = reader_of(build_record(source([*LAID_OUT, far]), Asked())).pages[0]
    assert " W n" in page.get_contents().get_data().decode("latin-1").replace(
        "\n", " "
    )  # clipped to the plan


def test_sides_and_bays_are_near_to_what_lies_on_them() -> None:
    square = [(0.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]
    assert [distance_m(spot, square) for spot in ((2, 2), (4, 2), (6, 2), (7, 8))] == [0, 0, 2, 5]


def test_the_plan_in_both_systems_is_of_the_same_slab() -> None:
    for system, words in (("us", "Scale 1/8\" = 1'"), ("metric", "Scale 1:100")):
        assert words in text_of(build_record(whole(), Asked("file", "en", system)))  # type: ignore[arg-type]
