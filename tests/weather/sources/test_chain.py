"""One after the other, then the last known: and what people are told of it."""

from dataclasses import dataclass, field
from datetime import datetime, timedelta

from tests.weather.sources.service import at_noon

from slabtide.engine.pour import WeatherHour
from slabtide.weather.sources.chain import Chosen, Standing, choose, is_due
from slabtide.weather.sources.contract import (
    Forecast,
    ForecastSource,
    Marks,
    Place,
    SourceError,
    Unchanged,
    UnreachableError,
)

NOW, MINUTE = at_noon(), timedelta(minutes=1)
PLACE = Place.near(36.1, -79.95)


@dataclass
class Scripted:
    """Says what it is told to; `shown` holds the marks it was shown."""

    name: str
    label: str
    say: Exception | Unchanged | None = None
    shown: list[Marks] = field(default_factory=list)

    def fetch(self, place: Place, marks: Marks, now: datetime) -> Forecast | Unchanged:
        self.shown.append(marks)
        if isinstance(self.say, Exception):
            raise self.say
        if self.say is not None:
            return self.say
        hours = (WeatherHour(now, 20.0, 0.5, 5.0),)
        return Forecast(hours, self.label, now, Marks(f'"{now:%H%M}"', None, "ABC/1,1"), 60 * MINUTE)


class Chain:
    """Two sources for one place, over time."""

    def __init__(self) -> None:
        self.first, self.second = Scripted("us", "First"), Scripted("world", "Second")
        self.standings: dict[str, Standing] = {}

    @property
    def sources(self) -> tuple[ForecastSource, ...]:
        return (self.first, self.second)

    def at(self, minutes: int, unreachable: set[str] | None = None) -> Chosen:
        now = NOW + minutes * MINUTE
        due = is_due(self.sources, self.standings, now)
        chosen = choose(
            self.sources, self.standings, PLACE, now, set() if unreachable is None else unreachable
        )
        assert chosen.asked == due
        self.standings = dict(chosen.standings)
        return chosen


def test_the_first_that_answers_is_used_and_left_alone_until_it_expires() -> None:
    chain = Chain()
    assert (chain.at(0).label, len(chain.second.shown)) == ("First", 0)
    assert not chain.at(59).asked
    chain.first.say = Unchanged(60 * MINUTE)
    later = chain.at(61)
    assert later.forecast is None
    assert (later.label, later.as_of) == ("First", NOW)
    assert chain.first.shown == [Marks(), Marks('"1200"', None, "ABC/1,1")]


def test_failure_of_the_first_falls_to_the_second_and_says_why() -> None:
    chain = Chain()
    chain.first.say = SourceError("answered with an error (500)")
    found = chain.at(0)
    assert found.label == "Second (First answered with an error (500))"
    assert found.forecast is not None
    assert chain.at(3).label == found.label, "while it waits, it still says so"
    chain.first.say = None
    assert chain.at(6).label == "First"
    assert chain.first.shown[-1] == Marks(), "the hours kept are not its own: it must send them whole"


def test_when_all_fail_the_last_known_stands_with_its_age() -> None:
    chain = Chain()
    chain.at(0)
    chain.first.say = SourceError("gave no answer within 10 s")
    chain.second.say = SourceError("asks us to slow down", retry_after=timedelta(hours=3))
    found = chain.at(61)
    assert found.label == (
        "First, last known (First gave no answer within 10 s; Second asks us to slow down)"
    )
    assert (found.as_of, found.forecast) == (NOW, None)
    assert chain.standings["world"].next_at == NOW + 61 * MINUTE + timedelta(hours=3)


def test_without_any_forecast_ever_nothing_is_said_and_hand_entry_remains() -> None:
    chain = Chain()
    chain.first.say = chain.second.say = SourceError("can't be reached")
    assert (chain.at(0).label, chain.at(1).as_of) == ("", None)


def test_tries_grow_rarer_while_a_source_fails() -> None:
    chain = Chain()
    chain.first.say = chain.second.say = SourceError("can't be reached")
    asked = [minute for minute in range(0, 600) if chain.at(minute).asked]
    assert asked == [0, 5, 15, 35, 75, 155, 275, 395, 515]


def test_a_source_that_does_not_cover_the_place_is_no_failure_to_speak_of() -> None:
    chain = Chain()
    chain.first.say = SourceError("does not cover this place", outside=True)
    assert chain.at(0).label == "Second"
    assert [chain.at(60 * hour + 1).label for hour in range(1, 5)] == ["Second"] * 4
    assert len(chain.first.shown) == 1


def test_a_source_found_dead_is_not_asked_again_in_the_same_round() -> None:
    chain, dead = Chain(), set[str]()
    chain.first.say = UnreachableError("gave no answer within 10 s")
    chain.at(0, dead)
    other = Chain()
    found = other.at(0, dead)
    assert other.first.shown == []
    assert found.label == "Second (First can't be reached)"
