"""The crew's phone is told how hot each hour feels, and how long to work in it."""

from datetime import timedelta

from tests.office.scene import FIRST_BATCH, HOUR, Patio

from slabtide.engine.heat_index import EXTREME_CAUTION_C
from slabtide.log.instants import read_instant


def test_every_hour_of_the_weather_at_hand_is_felt(patio: Patio) -> None:
    patio.poured()
    patio.tick(FIRST_BATCH + 5 * HOUR)
    weather = patio.mine()["weather"]
    felt = weather["felt"]
    assert felt["from"] == weather["covers_from"]
    hours = (read_instant(weather["covers_to"]) - read_instant(weather["covers_from"])) // timedelta(hours=1)
    assert {len(felt[name]) for name in ("air_temp_c", "feels_c", "moderate_min", "heavy_min")} == {hours + 1}


def test_a_july_afternoon_asks_for_rest_and_its_dawn_does_not(patio: Patio) -> None:
    patio.poured()
    patio.tick(FIRST_BATCH + 5 * HOUR)
    felt = patio.mine()["weather"]["felt"]
    dawn, afternoon = 1, 10
    assert (felt["moderate_min"][dawn], felt["heavy_min"][dawn]) == (60, 60)
    assert felt["feels_c"][afternoon] > EXTREME_CAUTION_C
    assert felt["heavy_min"][afternoon] <= felt["moderate_min"][afternoon] < 60
    pairs = zip(felt["heavy_min"], felt["moderate_min"], strict=True)
    assert any(heavy < moderate for heavy, moderate in pairs)


def test_without_weather_nothing_is_felt(patio: Patio) -> None:
    patio.open()
    patio.tick(FIRST_BATCH - 20 * HOUR)
    assert patio.mine()["weather"]["felt"] is None
