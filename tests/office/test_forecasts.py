"""From a forecast service to a job's windows: fetched apart from requests and reminders, kept, and said."""

import time
from collections.abc import Iterator
from dataclasses import replace
from datetime import datetime, timedelta

import pytest
from sqlalchemy import select
from tests.office.scene import FIRST_BATCH, HOUR, MINUTE, Patio
from tests.weather.sources.service import (
    Answer,
    ForecastService,
    grid,
    layer,
    lists,
    silent,
    united_states,
)

from slabtide.config import config_of
from slabtide.log.instants import read_instant, write_instant
from slabtide.office import forecast_rows
from slabtide.office.forecast_round import Forecasts, forecasts_of
from slabtide.office.forecast_state import forecast_json
from slabtide.store.session import read
from slabtide.store.tables import JobMark, WeatherHour
from slabtide.weather.sources.united_states import UnitedStates
from slabtide.weather.sources.web import Web
from slabtide.weather.sources.worldwide import Worldwide

NOON = FIRST_BATCH + 5 * HOUR
EARLIER = FIRST_BATCH.replace(minute=0) - 3 * HOUR


class Sky:
    """Two services the test speaks through; both are fine to begin with."""

    def __init__(self) -> None:
        self.us_air_c, self.world_air_c = 24.0, 24.0
        self.us: Answer = united_states(lambda: grid(EARLIER, 168, self.us_air_c))
        self.world: Answer = lambda asked: asked.tell(lists(EARLIER - 24 * HOUR, 240, self.world_air_c))
        self.services = (
            ForecastService(lambda asked: self.us(asked)),
            ForecastService(lambda asked: self.world(asked)),
        )

    def forecasts(self, patio: Patio, timeout_s: float = 3.0) -> Forecasts:
        us, world = (service.address for service in self.services)
        web = Web("Slabtide/test (mailto:office@slab.test)", [us, world], timeout_s)
        return Forecasts(patio.app, web, (UnitedStates(web, us), Worldwide(web, f"{world}/v1/forecast")))

    @property
    def asked(self) -> list[int]:
        return [len(service.seen) for service in self.services]


@pytest.fixture
def sky() -> Iterator[Sky]:
    made = Sky()
    yield made
    for service in made.services:
        service.close()


@pytest.fixture
def poured(patio: Patio) -> Patio:
    """Two loads in place, and nobody has said anything about the weather."""
    patio.open()
    patio.outline()
    patio.order()
    patio.crew()
    for number in (1, 2):
        patio.ticket(number)
        patio.place(number)
    patio.tick(NOON)
    return patio


def dirty(patio: Patio) -> bool:
    with patio.app.app_context(), read() as session:
        mark = session.get(JobMark, (patio.foreman.company, patio.job))
        assert mark is not None
        return mark.dirty


def saw_opens(patio: Patio) -> datetime:
    return read_instant(patio.reminders()["open"].opens["likely"])


def test_a_job_without_weather_gets_a_forecast_and_with_it_its_windows(poured: Patio, sky: Sky) -> None:
    assert poured.mine()["problem"]["code"] == "weather_missing"
    report = sky.forecasts(poured).round(NOON)
    assert (report.asked, report.changed_jobs) == (1, 1)
    poured.tick(NOON)
    weather = poured.mine()["weather"]
    assert weather["source"] == "forecast"
    assert weather["label"] == ("U.S. National Weather Service, sun worked out from its height and the cloud")
    assert read_instant(weather["as_of"]) == EARLIER
    assert poured.mine()["problem"] is None
    assert sky.asked == [2, 0]


def test_a_forecast_is_not_asked_for_again_before_its_time(poured: Patio, sky: Sky) -> None:
    forecasts = sky.forecasts(poured)
    for minutes in range(0, 60, 5):
        forecasts.round(NOON + minutes * MINUTE)
    assert sky.asked == [2, 0]
    assert forecasts.round(NOON + 61 * MINUTE).changed_jobs == 0, "it said the same: nothing is news"
    assert sky.asked == [3, 0]


def test_a_changed_forecast_moves_the_reminders_and_says_why(poured: Patio, sky: Sky) -> None:
    forecasts = sky.forecasts(poured)
    forecasts.round(NOON)
    poured.tick(NOON)
    before = saw_opens(poured)
    told_at = poured.reminders()["heads_up"].due
    mark_sent(poured)
    sky.us_air_c = 12.0
    assert forecasts.round(told_at + 61 * MINUTE).changed_jobs == 1
    poured.tick(told_at + 61 * MINUTE)
    assert saw_opens(poured) > before + 15 * MINUTE
    row = poured.reminders()["heads_up"]
    assert (row.moved_from, row.moved_why) == (told_at, "forecast")
    assert row.words["en"].startswith("The forecast changed: moved from")
    assert row.words["es"].startswith("Cambió el pronóstico: antes")


def test_a_kept_slot_that_a_new_forecast_rains_on_is_told_with_the_reason_and_the_next_best(
    poured: Patio, sky: Sky
) -> None:
    dry, forecasts = layer("mm", (EARLIER, "PT168H", 0.0)), sky.forecasts(poured)
    sky.us = united_states(lambda: grid(EARLIER, 168, 24.0, quantitativePrecipitation=dry))
    forecasts.round(NOON)
    washed = FIRST_BATCH + 30 * HOUR
    poured.record("cut.made", {"length_m": 22, "saw": "conventional", "last": True}, washed - HOUR)
    poured.record("wash.done", {"contained": True}, washed)
    poured.tick(washed + MINUTE)
    (work,) = [one for one in poured.mine()["timeline"]["days_ahead"]["works"] if one["work"] == "colour"]
    best = work["slots"][0]
    kept_from = read_instant(best["from"])
    assert kept_from > washed + 12 * HOUR
    slot = {"from": best["from"], "to": write_instant(kept_from + 2 * HOUR)}
    poured.record("slot.kept", {"work": "colour", "coat": 1} | slot, washed + 2 * MINUTE)
    poured.tick(washed + 3 * MINUTE)
    before = poured.reminders("colour")
    assert before["open"].due == kept_from
    assert before["heads_up"].state == "planned"
    rain = layer("mm", (kept_from - HOUR, "PT4H", 8.0))
    sky.us = united_states(lambda: grid(EARLIER, 168, 24.0, quantitativePrecipitation=rain))
    assert forecasts.round(washed + 2 * HOUR).changed_jobs == 1
    poured.tick(washed + 2 * HOUR)
    after = poured.reminders("colour")
    assert after["heads_up"].state == "due", "told at once, though nothing was sent yet"
    assert "the time you kept, no longer suits: rain. Next best" in after["heads_up"].words["en"]
    assert "ya no sirve: lluvia. La mejor opción" in after["heads_up"].words["es"]
    assert after["open"].due >= kept_from + 3 * HOUR


def mark_sent(patio: Patio) -> None:
    from slabtide.store.session import write
    from slabtide.store.tables import Reminder

    with patio.app.app_context(), write() as session:
        for row in session.scalars(select(Reminder).where(Reminder.stage == "heads_up")):
            row.state, row.sent_due = "sent", row.due


def test_when_the_first_fails_the_second_is_used_and_the_reason_is_said(poured: Patio, sky: Sky) -> None:
    sky.us = lambda asked: asked.tell({}, 500)
    sky.forecasts(poured).round(NOON)
    poured.tick(NOON)
    assert poured.mine()["weather"]["label"] == (
        "Worldwide open forecast (U.S. National Weather Service answered with an error (500))"
    )


def test_the_office_sees_which_source_failed_why_and_which_is_used(poured: Patio, sky: Sky) -> None:
    sky.us = silent
    forecasts = sky.forecasts(poured, timeout_s=0.3)
    forecasts.round(NOON)
    config = replace(
        config_of(poured.app), forecast_us_url="https://a.test", forecast_world_url="https://b.test"
    )
    with poured.app.app_context(), read() as session:
        of_job = forecast_json(session, poured.foreman.company, config, poured.job)
        of_all = forecast_json(session, poured.foreman.company, config, None)
    first, second = of_job["sources"]
    assert (first["source"], first["used"], first["failures"]) == ("us", 0, 1)
    assert first["why"]
    assert read_instant(first["next_at"]) > NOON
    assert (second["source"], second["used"], second["failures"]) == ("world", 1, 0)
    assert second["issued_at"] is not None
    assert of_job["label"]
    assert [source["places"] for source in of_all["sources"]] == [1, 1]


def test_without_a_source_set_up_that_is_said(patio: Patio) -> None:
    found = patio.client.get("/api/forecasts", headers=patio.foreman.headers).get_json()
    assert (found["on"], found["sources"]) == (False, [])


def test_when_all_fail_the_last_known_stands_and_hand_entry_wins_over_it(poured: Patio, sky: Sky) -> None:
    forecasts = sky.forecasts(poured)
    forecasts.round(NOON)
    sky.us = sky.world = lambda asked: asked.tell(b"<html>", 200)
    forecasts.round(NOON + 2 * HOUR)
    poured.tick(NOON + 2 * HOUR)
    weather = poured.mine()["weather"]
    assert ", last known (U.S. National Weather Service answered with something" in weather["label"]
    assert read_instant(weather["as_of"]) == EARLIER
    poured.days("2026-07-14", "2026-07-15")
    poured.tick(NOON + 2 * HOUR)
    assert poured.mine()["weather"]["source"] == "hand"
    assert poured.mine()["weather"]["label"].startswith("Entered by hand for Jul 14 to Jul 15; U.S.")


def test_a_forecast_wins_over_a_file_which_fills_what_it_does_not_reach(poured: Patio, sky: Sky) -> None:
    poured.typical_year()
    sky.us = united_states(lambda: grid(EARLIER, 24))
    sky.forecasts(poured).round(NOON)
    poured.tick(NOON)
    weather = poured.mine()["weather"]
    assert weather["source"] == "forecast"
    assert weather["label"].endswith("; Greensboro Piedmont Triad Int, typical year (TMY3)")
    assert read_instant(weather["covers_to"]) > NOON + 100 * HOUR


def test_hours_the_concrete_has_lain_in_are_kept_when_the_next_forecast_begins_later(
    poured: Patio, sky: Sky
) -> None:
    forecasts = sky.forecasts(poured)
    forecasts.round(NOON)
    sky.us = united_states(lambda: grid(NOON + 8 * HOUR, 120, 30.0))
    forecasts.round(NOON + 9 * HOUR)
    poured.tick(NOON + 9 * HOUR)
    assert poured.mine()["problem"] is None
    with poured.app.app_context(), read() as session:
        rows = {row.at: row.air_temp_c for row in session.scalars(select(WeatherHour))}
    assert (rows[EARLIER], rows[NOON.replace(minute=0) + 10 * HOUR]) == (24.0, 30.0)


def test_a_second_job_at_the_same_place_shares_the_answer(poured: Patio, sky: Sky) -> None:
    forecasts = sky.forecasts(poured)
    forecasts.round(NOON)
    other = Patio(poured.app, poured.client, poured.sync, poured.foreman)
    other.open("Next door")
    other.outline()
    other.order(NOON + 20 * HOUR)
    other.tick(NOON)
    assert forecasts.round(NOON + MINUTE).changed_jobs == 1
    other.tick(NOON + MINUTE)
    assert other.mine()["weather"]["source"] == "forecast"
    assert sky.asked == [2, 0]


def test_a_slow_source_never_holds_up_a_tick_and_a_stop_ends_it(poured: Patio, sky: Sky) -> None:
    import threading

    sky.us = sky.world = silent
    forecasts = sky.forecasts(poured, timeout_s=10.0)
    running = threading.Thread(target=forecasts.round, args=(NOON,))
    running.start()
    while not any(sky.asked):
        time.sleep(0.01)
    began = time.monotonic()
    poured.tick(NOON)
    assert time.monotonic() - began < 2.0
    forecasts.stop()
    running.join(3.0)
    assert not running.is_alive()


@pytest.mark.parametrize("pour_at", [NOON + timedelta(days=11), NOON - timedelta(days=40)])
def test_a_pour_far_off_or_long_past_is_nobodys_business(patio: Patio, sky: Sky, pour_at: datetime) -> None:
    patio.open()
    patio.order(pour_at)
    patio.tick(NOON)
    assert sky.forecasts(patio).round(NOON).asked == 0


def test_closed_jobs_and_jobs_nobody_has_looked_at_for_long_are_left_alone(patio: Patio, sky: Sky) -> None:
    patio.open()
    patio.tick(NOON)
    forecasts = sky.forecasts(patio)
    assert forecasts.round(NOON).asked == 1
    assert forecasts.round(NOON + timedelta(days=15)).asked == 0
    patio.record("job.closed", {})
    patio.tick(NOON)
    assert forecasts.round(NOON + 2 * HOUR).asked == 0


def test_a_round_asks_about_twenty_places_at_most_and_comes_to_the_rest_later(
    poured: Patio, sky: Sky, monkeypatch: pytest.MonkeyPatch
) -> None:
    places = [
        forecast_rows.Wanted(poured.foreman.company, forecast_rows.Place.near(30 + n / 10, -90.0), ())
        for n in range(25)
    ]
    monkeypatch.setattr(forecast_rows, "wanted_places", lambda session, now: places)
    forecasts = sky.forecasts(poured)
    assert [forecasts.round(NOON).asked, forecasts.round(NOON).asked] == [20, 5]


def test_forecasts_are_off_without_an_address_or_a_contact(
    poured: Patio, monkeypatch: pytest.MonkeyPatch, caplog: pytest.LogCaptureFixture
) -> None:
    from dataclasses import replace

    assert forecasts_of(poured.app) is None
    config = replace(config_of(poured.app), forecast_us_url="https://us.test", push_contact=None)
    monkeypatch.setitem(poured.app.extensions, "slabtide.config", config)
    assert forecasts_of(poured.app) is None
    assert "SLABTIDE_PUSH_CONTACT is not set" in caplog.text
