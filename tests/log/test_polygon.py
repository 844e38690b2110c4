"""An outline is simple and holds area, or the words say which sides are wrong."""

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from slabtide.log.polygon import area_m2, perimeter_m, problem

L_SHAPE = [(0.0, 0.0), (8.0, 0.0), (8.0, 3.0), (4.0, 3.0), (4.0, 5.0), (0.0, 5.0)]


def test_an_l_shaped_patio_is_an_outline() -> None:
    assert problem(L_SHAPE) is None
    assert (area_m2(L_SHAPE), perimeter_m(L_SHAPE)) == (32.0, 26.0)


def test_a_corner_on_a_straight_side_is_allowed() -> None:
    assert problem([(0.0, 0.0), (2.0, 0.0), (4.0, 0.0), (4.0, 4.0), (0.0, 4.0)]) is None


@pytest.mark.parametrize(
    ("corners", "words"),
    [
        ([(0, 0), (4, 4), (4, 0), (0, 4)], "Sides 1 and 3 cross"),
        ([(0, 0), (4, 0), (4, 0), (0, 4)], "Corners 2 and 3 are the same"),
        ([(0, 0), (4, 0), (4, 4), (0, 0)], "Corners 4 and 1 are the same"),
        ([(0, 0), (4, 0), (2, 0)], "Sides"),
        ([(0, 0), (4, 0), (4, 4), (2, 0), (0, 4)], "cross or touch"),
        ([(0, 0), (4, 0), (4, 4), (4, 2), (0, 4)], "Sides 2 and 3 cross"),
        ([(0, 0), (0.05, 0), (0.05, 0.05), (0, 0.05)], "holds no area"),
    ],
)
def test_what_is_no_outline_is_said_in_words(corners: list[tuple[float, float]], words: str) -> None:
    assert words in (problem([(float(x), float(y)) for x, y in corners]) or "")


@given(st.integers(3, 40), st.floats(0.5, 50), st.floats(-200, 200), st.booleans())
def test_every_regular_polygon_is_an_outline_of_known_area(n: int, r: float, x: float, flip: bool) -> None:
    turn = -1 if flip else 1
    corners = [
        (x + r * math.cos(turn * 2 * math.pi * k / n), r * math.sin(turn * 2 * math.pi * k / n))
        for k in range(n)
    ]
    assert problem(corners) is None
    assert area_m2(corners) == pytest.approx(n / 2 * r * r * math.sin(2 * math.pi / n))
    assert perimeter_m(corners) == pytest.approx(2 * n * r * math.sin(math.pi / n))
