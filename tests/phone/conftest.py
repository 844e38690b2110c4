"""The patio of the office's tests, and its foreman."""

from collections.abc import Callable, Iterator

import pytest
from flask import Flask
from flask.testing import FlaskClient
from tests.conftest import Joined, Syncs
from tests.office.scene import Patio

from slabtide.reminders import worker


@pytest.fixture
def patio(app: Flask, client: FlaskClient, sync: Syncs, join: Callable[..., Joined]) -> Iterator[Patio]:
    yield Patio(app, client, sync, join("foreman", name="Ana"))
    worker.close(app)
