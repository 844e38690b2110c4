"""What a log says of the days after reaches the engine, cuts with the loads they run over."""

from datetime import timedelta

from sqlalchemy import select
from tests.office.scene import FIRST_BATCH, HOUR, Patio

from slabtide.log.fold import fold
from slabtide.log.instants import write_instant
from slabtide.log.model import JobView
from slabtide.log.view import view_job
from slabtide.office.days.reach import LONGEST, weather_until, work_left
from slabtide.office.days.told import days_json
from slabtide.office.days.under import inside, loads_under
from slabtide.store.session import read
from slabtide.store.tables import Event

DAY = timedelta(days=1)


def view_of(patio: Patio) -> JobView:
    with patio.app.app_context(), read() as session:
        events = list(session.scalars(select(Event).where(Event.job == patio.job)))
        return view_job(fold(events, patio.job))


def test_nothing_told_adds_nothing(patio: Patio) -> None:
    patio.poured()
    assert days_json(view_of(patio), set(patio.loads)) == {}


def test_washes_coats_products_tests_slots_and_cuts_are_told(patio: Patio) -> None:
    patio.poured()
    patio.record("wash.done", {"contained": True}, FIRST_BATCH + 30 * HOUR)
    patio.record("product.chosen", {"work": "seal", "low_c": 7, "coats": 3}, FIRST_BATCH)
    patio.record("coat.sealed", {"coat": 1}, FIRST_BATCH + 3 * DAY)
    laid = write_instant(FIRST_BATCH + 40 * HOUR)
    patio.record("sheet.tested", {"laid_at": laid, "dry": True}, FIRST_BATCH + 56 * HOUR)
    slot = {
        "from": write_instant(FIRST_BATCH + 4 * DAY),
        "to": write_instant(FIRST_BATCH + 4 * DAY + 3 * HOUR),
    }
    patio.record("slot.kept", {"work": "seal", "coat": 2, **slot}, FIRST_BATCH + 3 * DAY)
    cut = "01890000-0000-7000-8000-00000000c001"
    planned = {"cut": cut, "from": [0, 0], "to": [3, 4], "order": 1}
    patio.record("cut.planned", planned, FIRST_BATCH)
    patio.record("cut.tested", {"result": "slight", "saw": "early-entry"}, FIRST_BATCH + 8 * HOUR)
    told = days_json(view_of(patio), set(patio.loads))
    assert told["products"] == {"seal": {"low_c": 7, "coats": 3}}
    assert told["done"]["washes"] == [write_instant(FIRST_BATCH + 30 * HOUR)]
    assert told["done"]["coats"] == [{"coat": 1, "at": write_instant(FIRST_BATCH + 3 * DAY)}]
    assert told["kept_slots"] == [{"work": "seal", "coat": 2, **slot}]
    assert told["sheet_tests"][0]["dry"] is True
    assert told["cuts"] == [{"id": cut, "length_m": 5.0, "loads": told["cuts"][0]["loads"]}]
    assert told["test_cuts"][0]["result"] == "slight"


def test_the_timeline_then_has_the_plan_and_the_next_coat(patio: Patio) -> None:
    patio.poured()
    planned = {"cut": "01890000-0000-7000-8000-00000000c001", "from": [0, 0], "to": [3, 4], "order": 1}
    patio.record("cut.planned", planned, FIRST_BATCH)
    patio.record("wash.done", {"contained": True}, FIRST_BATCH + 30 * HOUR)
    patio.tick(FIRST_BATCH + 31 * HOUR)
    timeline = patio.mine()["timeline"]
    assert [cut["length_m"] for cut in timeline["saw_plan"]["cuts"]] == [5.0]
    assert [work["work"] for work in timeline["days_ahead"]["works"]] == ["colour", "seal", "seal"]


class Strip:
    """A bay, as far as a cut over it asks."""

    def __init__(self, load: str | None, x: float) -> None:
        self.load, self.corners = load, ((x, 0.0), (x + 2.0, 0.0), (x + 2.0, 4.0), (x, 4.0))


def test_a_cut_between_two_bays_runs_over_both_and_one_within_over_its_own() -> None:
    bays = [Strip("a", 0.0), Strip("b", 2.0), Strip(None, 4.0), Strip("c", 6.0)]
    assert loads_under((2.0, 0.0), (2.0, 4.0), bays) == ("a", "b")  # type: ignore[arg-type]
    assert loads_under((1.0, 0.0), (1.0, 4.0), bays) == ("a",)  # type: ignore[arg-type]
    assert loads_under((0.0, 2.0), (8.0, 2.0), bays) == ("a", "b", "c")  # type: ignore[arg-type]
    assert loads_under((4.9, 1.0), (5.1, 1.0), bays) == ()  # type: ignore[arg-type]
    assert inside(bays[0].corners, (1.0, 1.0))
    assert not inside(bays[0].corners, (3.0, 1.0))


def test_the_weather_reaches_a_week_on_while_a_coat_is_left_and_no_further_than_39_days(patio: Patio) -> None:
    patio.poured()
    begins, ends = FIRST_BATCH, FIRST_BATCH + 5 * DAY
    view = view_of(patio)
    assert weather_until(view, begins, ends, FIRST_BATCH) == FIRST_BATCH + 7 * DAY
    assert weather_until(view, begins, ends, FIRST_BATCH + 28 * DAY) == FIRST_BATCH + 35 * DAY
    assert weather_until(view, begins, ends, FIRST_BATCH + 90 * DAY) == FIRST_BATCH + LONGEST
    patio.record("cut.made", {"length_m": 3, "saw": "early-entry", "last": True}, FIRST_BATCH + 9 * HOUR)
    for coat in (1, 2):
        patio.record("coat.sealed", {"coat": coat}, FIRST_BATCH + coat * DAY)
    assert not work_left(view_of(patio))
    assert weather_until(view_of(patio), begins, ends, FIRST_BATCH + 28 * DAY) == ends
