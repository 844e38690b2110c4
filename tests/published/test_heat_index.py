"""The heat index against the chart of the US National Weather Service."""

from itertools import pairwise

import pytest

from slabtide.engine.heat_index import heat_index_c

CHART = [
    (90, 60, 100),
    (90, 70, 106),
    (96, 65, 121),
    (100, 40, 109),
    (100, 50, 118),
    (88, 70, 100),
    (84, 70, 90),
    (80, 40, 80),
    (110, 40, 136),
    (94, 85, 135),
]


@pytest.mark.parametrize(("air_f", "rh", "told_f"), CHART)
def test_the_chart_to_one_fahrenheit(air_f: float, rh: float, told_f: float) -> None:
    """Source: NWS heat index chart, whole degrees Fahrenheit. Within 1 °F: the chart is rounded."""
    assert heat_index_c((air_f - 32) / 1.8, rh / 100) * 1.8 + 32 == pytest.approx(told_f, abs=1.0)


@pytest.mark.parametrize(
    ("air_f", "rh", "told_f"),
    [(75, 50, 74.55), (80, 40, 79.58), (100, 10, 94.12), (95, 5, 88.18), (84, 90, 98.34)],
)
def test_the_adjustments_and_the_simple_form(air_f: float, rh: float, told_f: float) -> None:
    """Source: Rothfusz (1990), NWS SR 90-23, with the service's two adjustments, worked by hand."""
    assert heat_index_c((air_f - 32) / 1.8, rh / 100) * 1.8 + 32 == pytest.approx(told_f, abs=0.02)


def test_hotter_and_damper_never_feels_cooler() -> None:
    for rh in range(0, 101, 5):
        felt = [heat_index_c(temp, rh / 100) for temp in range(10, 46)]
        assert all(b > a - 0.6 for a, b in pairwise(felt))  # the joins step back a little
