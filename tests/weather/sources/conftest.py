"""A loopback forecast service for each test, and a caller that knows it."""

from collections.abc import Callable, Iterator

import pytest
from tests.weather.sources.service import Answer, ForecastService

from slabtide.weather.sources.web import Web

Serve = Callable[[Answer], ForecastService]


@pytest.fixture
def serve() -> Iterator[Serve]:
    made: list[ForecastService] = []

    def served(answer: Answer) -> ForecastService:
        made.append(ForecastService(answer))
        return made[-1]

    yield served
    for service in made:
        service.close()


def web_for(*services: ForecastService, timeout_s: float = 5.0) -> Web:
    return Web("Slabtide/test (mailto:office@slab.test)", [one.address for one in services], timeout_s)
