"""Who is told: the lead, then the foremen, then the office; a last call goes to the crew of that job."""

import uuid
from collections.abc import Callable
from datetime import datetime, timedelta

import pytest
from tests.conftest import Joined
from tests.reminders.conftest import CLOSES, OPENS, Scene, facts

from slabtide.log.instants import write_instant
from slabtide.store.session import write
from slabtide.store.tables import Event, JobMark

MINUTE = timedelta(minutes=1)
LAST_CALL = CLOSES - timedelta(minutes=40 + 45 + 22)
Join = Callable[..., Joined]


@pytest.fixture
def company_of_five(scene: Scene, foreman: Joined, join: Join) -> dict[str, Joined]:
    """The foreman's phone "lead", a desk, and three of crew of whom Ben leads the job."""
    found = {"office": join("office")}
    scene.subscribe(found["office"], "desk")
    for name in ("ben", "cal", "dee"):
        found[name] = join("crew", name=name)
        scene.subscribe(found[name], name)
    return found


def ready(scene: Scene, now: datetime, lead: Joined | None, *logged: tuple[Joined, datetime]) -> None:
    scene.derive(now)
    with scene.app.app_context(), write() as session:
        mark = session.get(JobMark, (scene.company, facts().job))
        assert mark is not None
        mark.state = dict(mark.state or {}) | {"lead": lead.person if lead else None}
        for number, (who, at) in enumerate(logged):
            session.add(event_of(scene, who, at, number + 1))


def event_of(scene: Scene, who: Joined, at: datetime, number: int) -> Event:
    return Event(
        company_id=scene.company, id=str(uuid.uuid4()), seq=9000 + number, job=facts().job,
        kind="note.written",
        body={}, at=write_instant(at), clock=f"{number:030d}", device=who.device, author=who.person,
        received_at=at,
    )  # fmt: skip


def told(scene: Scene, *moments: datetime) -> list[str]:
    for now in moments:
        scene.tick(now)
    return sorted(one.phone for one in scene.service.arrived)


def test_an_opening_goes_to_the_lead_then_to_the_foreman_then_to_the_office(
    scene: Scene, company_of_five: dict[str, Joined]
) -> None:
    ready(scene, OPENS, company_of_five["ben"])
    for minutes in range(0, 105, 5):
        scene.tick(OPENS + minutes * MINUTE)
    assert [one.phone for one in scene.service.arrived] == ["ben", "lead", "desk"]


def test_where_no_lead_is_named_an_opening_goes_to_the_foreman(
    scene: Scene, company_of_five: dict[str, Joined]
) -> None:
    ready(scene, OPENS, None)
    assert told(scene, OPENS) == ["lead"]


def test_a_lead_whose_phone_does_not_listen_leaves_it_to_the_foreman(
    scene: Scene, company_of_five: dict[str, Joined], join: Join
) -> None:
    ready(scene, OPENS, join("crew", name="no phone"))
    assert told(scene, OPENS) == ["lead"]


def test_a_last_call_goes_to_the_crew_of_that_job_and_the_foreman(
    scene: Scene, company_of_five: dict[str, Joined]
) -> None:
    cal, dee, office = (company_of_five[name] for name in ("cal", "dee", "office"))
    today, days_ago = LAST_CALL - timedelta(hours=9), LAST_CALL - timedelta(days=3)
    ready(scene, LAST_CALL, company_of_five["ben"], (cal, today), (dee, days_ago), (office, today))
    assert told(scene, LAST_CALL) == ["ben", "cal", "lead"]


def test_who_logged_is_the_crew_where_no_lead_is_named(
    scene: Scene, company_of_five: dict[str, Joined]
) -> None:
    ready(scene, LAST_CALL, None, (company_of_five["dee"], LAST_CALL - timedelta(hours=2)))
    assert told(scene, LAST_CALL) == ["dee", "lead"]


def test_where_nobody_of_the_job_is_known_a_last_call_goes_to_all_crew(
    scene: Scene, company_of_five: dict[str, Joined]
) -> None:
    ready(scene, LAST_CALL, None)
    assert told(scene, LAST_CALL) == ["ben", "cal", "dee", "lead"]


def test_never_fewer_than_one_person_is_told(scene: Scene, join: Join) -> None:
    scene.subscribe(join("office"), "desk")
    ready(scene, LAST_CALL, join("crew", name="no phone"))
    assert told(scene, LAST_CALL) == ["desk"]
